import { useEffect, useState } from 'preact/hooks';
import { ask } from '../client.ts';
import { label, number } from '../words.ts';

/** GET /v1/designs/{id}/comparison: what was predicted beside what was measured, by quantity and version. */
interface Compared {
  quantities: {
    quantity: string;
    closerBy: number | null;
    points: {
      versionId: string;
      number: number;
      predicted: number | null;
      measured: number;
      differencePct: number | null;
      inside: boolean | null;
      prints: number;
    }[];
  }[];
}

/** Predicted beside measured over the versions of a design; nothing where nothing was measured. */
export function Measured({ designId }: { designId: string }) {
  const [found, setFound] = useState<Compared | null>(null);
  useEffect(() => {
    ask<Compared>(`/v1/designs/${designId}/comparison`).then(
      ({ body }) => setFound(body),
      () => setFound(null),
    );
  }, [designId]);
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
              <tr key={quantity + each.versionId}>
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
