import { useState } from 'preact/hooks';
import type { Answer } from '../client.ts';
import type { Marked } from './lattice-view.tsx';
import { State } from './shown.tsx';

type Evaluation = Answer<'/v1/evaluations/{id}'>;
type Check = NonNullable<Evaluation['result']>['printability']['checks'][number];

interface ChecksProps {
  checks: readonly Check[];
  parameterSet: Evaluation['input']['parameterSet'];
  marked: Marked | null;
  onMark: (marked: Marked | null) => void;
}

const WORST_FIRST = ['fail', 'warn', 'not-checked'];

/** What was checked, the worst first; each points at its places in the lattice. What passes is folded away. */
export function Checks({ checks, ...rest }: ChecksProps) {
  const wanting = WORST_FIRST.flatMap((status) => checks.filter((each) => each.status === status));
  const passed = checks.filter(({ status }) => status === 'pass');
  return (
    <>
      <ul class="plain checks">
        {wanting.map((check) => (
          <OneCheck key={check.id} check={check} {...rest} />
        ))}
      </ul>
      {passed.length > 0 && (
        <details>
          <summary>{passed.length} more pass</summary>
          <ul class="plain checks">
            {passed.map((check) => (
              <OneCheck key={check.id} check={check} {...rest} />
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function OneCheck({ check: { id, status, message, where }, parameterSet, marked, onMark }: { check: Check } & Omit<ChecksProps, 'checks'>) {
  const [busy, setBusy] = useState(false);
  const places = where.filter(({ kind }) => kind !== 'layer');
  const isShown = marked?.name === id;
  const show = async () => {
    if (isShown) return onMark(null);
    setBusy(true);
    const cells = places.filter(({ kind }) => kind === 'cell');
    const around = cells.length > 0 ? (await import('../../../worker/engine/index.ts')).strutsAround(parameterSet as never, cells) : [];
    onMark({ name: id, places: [...places, ...around.map((index) => ({ kind: 'strut', index }))] });
    setBusy(false);
  };
  return (
    <li>
      <div class="row">
        <State is={status} />
        <strong>{id.replaceAll('-', ' ')}</strong>
        {places.length > 0 && (
          <button type="button" class="small" aria-pressed={isShown} disabled={busy} onClick={show}>
            {isShown ? 'Hide' : `Show ${places.length} in the lattice`}
          </button>
        )}
      </div>
      <p>{message}</p>
    </li>
  );
}
