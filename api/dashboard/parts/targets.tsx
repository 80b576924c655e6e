import { label, number } from '../words.ts';
import { State } from './shown.tsx';

interface Target {
  quantity: string;
  target: number | null;
  min: number | null;
  max: number | null;
  value: number | null;
  within: boolean | null;
}

/** What is wanted, what there is, and where that lies about the band. */
export function Targets({ targets }: { targets: readonly Target[] }) {
  if (targets.length === 0) return <p class="quiet">No reference was named, so there is nothing to compare with.</p>;
  return (
    <ul class="plain">
      {targets.map((each) => {
        const { name, unit } = label(each.quantity);
        return (
          <li key={each.quantity}>
            <div class="row" style={{ justifyContent: 'space-between' }}>
              <strong>{name}</strong>
              <span>
                {number(each.value)} <span class="unit">{unit}</span> · wanted {wanted(each)}
              </span>
              <State is={each.within === null ? 'not-checked' : each.within ? 'pass' : 'fail'} />
            </div>
            <Band {...each} />
          </li>
        );
      })}
    </ul>
  );
}

const wanted = ({ min, max, target }: Target): string => {
  if (min !== null && max !== null) return `${number(min)} to ${number(max)}`;
  if (min !== null) return `at least ${number(min)}`;
  return max !== null ? `at most ${number(max)}` : number(target);
};

/** The band in the middle fifth, the value where it lies, at the edge where it is far outside. */
function Band({ min, max, target, value }: Target) {
  if (value === null) return null;
  const [low, high] = [min ?? (max ?? target!) * 0.95, max ?? (min ?? target!) * 1.05];
  const width = high - low || Math.abs(high) * 0.02 || 1;
  const at = (x: number) => Math.min(98, Math.max(2, 40 + (20 * (x - low)) / width));
  return (
    <svg class="band" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      <rect x="0" y="4" width="100" height="2" fill="var(--line)" />
      <rect x="40" y="3" width="20" height="4" fill="var(--good)" opacity="0.5" />
      <rect x={at(value) - 0.4} y="1" width="0.8" height="8" fill="var(--ink)" />
    </svg>
  );
}
