import type { Answer } from '../client.ts';
import { label, number } from '../words.ts';
import { numberHeads, Table } from './table.tsx';

type Found = Answer<'/v1/reevaluations/{id}'>['drift'];

/** What a newer engine made of earlier evaluations: numbers that moved, and what came to another end. */
export function Drift({ of: { pairs, quantities, verdicts, newFailures, pastFailures } }: { of: Found }) {
  return (
    <>
      {pairs > 0 && <Quantities of={quantities} />}
      <Told title="Verdicts that changed" items={verdicts.items.map((each) => ({ ...each, words: `${each.from} → ${each.to}` }))} />
      <Told title="Done before, failed now" items={newFailures.items.map((each) => ({ ...each, words: each.message }))} />
      <Told title="Failed before, done now" items={pastFailures.items.map((each) => ({ ...each, words: each.message }))} />
    </>
  );
}

function Quantities({ of }: { of: Found['quantities'] }) {
  return (
    <section class="card scroll">
      <h2>What moved</h2>
      <Table heads={['quantity', ...numberHeads('moved', 'median change', 'largest change')]}>
        {of.map(({ quantity, moved, compared, medianPct, largest }) => (
          <tr key={quantity}>
            <th scope="row">
              {label(quantity).name} <span class="unit">{label(quantity).unit}</span>
            </th>
            <td class="number">
              {moved} of {compared}
            </td>
            <td class="number">{medianPct === null ? '–' : `${number(medianPct, 3)} %`}</td>
            <td class="number">
              {largest === null ? (
                '–'
              ) : (
                <a href={`#/evaluations/${largest.again}`}>
                  {number(largest.changePct, 3)} %: {number(largest.left)} → {number(largest.right)}
                </a>
              )}
            </td>
          </tr>
        ))}
      </Table>
    </section>
  );
}

function Told({ title, items }: { title: string; items: readonly { evaluationId: string; again: string; words: string }[] }) {
  if (items.length === 0) return null;
  return (
    <section class="card">
      <h2>{title}</h2>
      <ul>
        {items.map(({ evaluationId, again, words }) => (
          <li key={again}>
            {words}: <a href={`#/evaluations/${evaluationId}`}>before</a>, <a href={`#/evaluations/${again}`}>now</a>
          </li>
        ))}
      </ul>
    </section>
  );
}
