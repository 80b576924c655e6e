import type { Answer } from '../client.ts';
import { useResource } from '../use-resource.ts';
import { label, number } from '../words.ts';

/** Predicted beside measured over the versions of a design; nothing where nothing was measured. */
export function Measured({ designId }: { designId: string }) {
  const found = useResource<Answer<'/v1/designs/{id}/comparison'>>(`/v1/designs/${designId}/comparison`).data;
  if (!found || found.quantities.length === 0) return null;
  return (
    <section class="card wide scroll">
      <h2>Predicted beside measured</h2>
      <table>
        <thead>
          <tr>
            {['quantity', 'version', 'predicted', 'measured', 'off by', 'within its band', 'parts'].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {found.quantities.flatMap(({ quantity, points }) =>
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
        </tbody>
      </table>
    </section>
  );
}
