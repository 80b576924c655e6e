import { useEffect, useState } from 'preact/hooks';
import type { Answer } from '../client.ts';
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

/** What each version came to, quantity by quantity, below what is wanted of it. */
export function Comparison({ versions, evaluations }: { versions: readonly Version[]; evaluations: readonly Summary[] }) {
  const [wanted, setWanted] = useState<readonly Targeted[]>([]);
  const deepest = (id: string) => evaluations.filter(({ versionId }) => versionId === id).sort((a, b) => filled(b) - filled(a))[0];
  return (
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
      {versions.map((version) => (
        <Row key={version.id} version={version} found={deepest(version.id)} onTargets={setWanted} />
      ))}
    </Table>
  );
}

interface RowProps {
  version: Version;
  found: Summary | undefined;
  onTargets: (targets: readonly Targeted[]) => void;
}

function Row({ version: { number: which, notes }, found, onTargets }: RowProps) {
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
      <td>{found ? <State is={found.verdict ?? found.status} /> : <span class="quiet">not evaluated</span>}</td>
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
