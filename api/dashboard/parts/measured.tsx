import type { Answer } from '../client.ts';
import { useResource } from '../use-resource.ts';
import { label, number } from '../words.ts';
import { Plotted } from './plotted.tsx';
import { Table } from './table.tsx';

type Compared = Answer<'/v1/designs/{id}/comparison'>['quantities'][number];

/** Predicted beside measured over the versions of a design; nothing where nothing was measured. */
export function Measured({ designId }: { designId: string }) {
  const found = useResource<Answer<'/v1/designs/{id}/comparison'>>(`/v1/designs/${designId}/comparison`).data;
  if (!found || found.quantities.length === 0) return null;
  return (
    <section class="card wide">
      <h2>Predicted beside measured</h2>
      <p class="quiet">Dots: mean of the parts, with two standard deviations of them; diamonds: predicted.</p>
      <div class="grid">
        {found.quantities.map((each) => (
          <Plotted key={each.quantity} of={each} draw={(plots) => plots.comparedPlot(pointsOf(each), axisOf(each))} />
        ))}
      </div>
      <div class="scroll">
        <Numbers quantities={found.quantities} />
      </div>
    </section>
  );
}

const axisOf = ({ quantity }: Compared) => [label(quantity).name, label(quantity).unit].filter(Boolean).join(', ');
const pointsOf = ({ points }: Compared) => points.map((each) => ({ ...each, version: each.number }));

function Numbers({ quantities }: { quantities: readonly Compared[] }) {
  return (
    <Table heads={['quantity', 'version', 'predicted', 'measured', 'off by', 'within its band', 'parts']}>
      {quantities.flatMap(({ quantity, points }) =>
        points.map((each) => (
          <tr key={quantity + each.versionId + each.material.key + each.finishing}>
            <th scope="row">
              {label(quantity).name} <span class="unit">{label(quantity).unit}</span>
            </th>
            <td>{each.number}</td>
            <td>{number(each.predicted)}</td>
            <td>{number(each.measured)}</td>
            <td>{each.differencePct === null ? '–' : `${number(each.differencePct, 3)} %`}</td>
            <td>{each.inside === null ? 'no band' : each.inside ? '✓ yes' : '✗ no'}</td>
            <td>{each.prints}</td>
          </tr>
        )),
      )}
    </Table>
  );
}
