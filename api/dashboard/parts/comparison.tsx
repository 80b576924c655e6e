import { useEffect, useState } from 'preact/hooks';
import type { Answer } from '../client.ts';
import { isLive, useResource } from '../use-resource.ts';
import { number } from '../words.ts';
import { State } from './shown.tsx';
import { quantityHeads, Table } from './table.tsx';
import { type Targeted, useTargets } from './verdicts.tsx';

type Version = Answer<'/v1/designs/{id}/versions'>['items'][number];
type Summary = Answer<'/v1/evaluations'>['items'][number];

const COMPARED = [
  'massG',
  'circumferenceMm',
  'stiffnessNPerMm',
  'reboundHeightMm',
  'peakForceN',
  'cyclesToFailure',
  'partsPerBuild',
  'totalPerPart',
] as const;

/** Each line is looked up by itself. */
const AT_FIRST = 20;

/** What each version came to, quantity by quantity, below what is wanted of it. */
export function Comparison({ versions }: { versions: readonly Version[] }) {
  const [wanted, setWanted] = useState<readonly Targeted[]>([]);
  const [shown, setShown] = useState(AT_FIRST);
  return (
    <>
      <Table heads={['version', 'state', ...quantityHeads(COMPARED)]}>
        {wanted.length > 0 && (
          <tr>
            <th scope="row">wanted</th>
            <td class="quiet">reference</td>
            {COMPARED.map((quantity) => (
              <td class="number quiet" key={quantity}>
                {band(wanted.find((each) => each.quantity === quantity))}
              </td>
            ))}
          </tr>
        )}
        {versions.slice(0, shown).map((version) => (
          <Row key={version.id} version={version} onTargets={setWanted} />
        ))}
      </Table>
      {versions.length > shown && (
        <button type="button" onClick={() => setShown(versions.length)}>
          Show older ones
        </button>
      )}
    </>
  );
}

interface RowProps {
  version: Version;
  onTargets: (targets: readonly Targeted[]) => void;
}

function Row({ version: { id, number: which, notes }, onTargets }: RowProps) {
  const evaluations = useResource<Answer<'/v1/evaluations'>>(`/v1/evaluations?versionId=${id}&limit=50`, {
    everyMs: 3000,
    isLive: ({ items }) => items.some(isLive),
  });
  const found = evaluations.data?.items.toSorted((a, b) => filled(b) - filled(a))[0];
  const targets = useTargets(found?.status === 'done' ? found.id : null);
  const of = (quantity: string) => targets?.find((each) => each.quantity === quantity);
  useEffect(() => {
    if (targets && targets.length > 0) onTargets(targets);
  }, [targets]);
  return (
    <tr>
      <th scope="row" title={notes}>
        {found ? <a href={`#/evaluations/${found.id}`}>{which}</a> : which}
      </th>
      <td>{found ? <State is={found.verdict ?? found.status} /> : evaluations.data && <span class="quiet">not evaluated</span>}</td>
      {COMPARED.map((quantity) => (
        <td class="number" key={quantity}>
          {of(quantity)?.within === true && (
            <span class="state state-pass" title="within what is wanted">
              ✓{' '}
            </span>
          )}
          {of(quantity)?.within === false && (
            <span class="state state-fail" title={`misses by ${number(of(quantity)?.missPct, 3)} %`}>
              ✗{' '}
            </span>
          )}
          {number(found?.quantities[quantity])}
        </td>
      ))}
    </tr>
  );
}

function band(target: Targeted | undefined): string {
  if (!target) return '';
  const { min, max } = target;
  if (min !== null && max !== null) return `${number(min)}–${number(max)}`;
  if (min !== null) return `≥ ${number(min)}`;
  return max !== null ? `≤ ${number(max)}` : number(target.target);
}

/** How much an evaluation tells: the deepest one of a version is shown. */
const filled = ({ quantities }: Summary): number => Object.values(quantities).filter((value) => value !== null).length;
