import type { Answer } from '../client.ts';
import { Acceptances } from '../parts/acceptances.tsx';
import { CsvForm } from '../parts/csv-form.tsx';
import { MeasurementForm } from '../parts/measurement-form.tsx';
import { PrintForm } from '../parts/print-form.tsx';
import { Shown } from '../parts/shown.tsx';
import { useResource } from '../use-resource.ts';
import { label, number } from '../words.ts';

/** What came back from the test house: printed parts, what was measured on them, and the ways to enter both. */
export function TestHouse() {
  const prints = useResource<Answer<'/v1/prints'>>('/v1/prints?limit=100');
  const measurements = useResource<Answer<'/v1/measurements'>>('/v1/measurements?limit=100');
  const refresh = () => {
    prints.refresh();
    measurements.refresh();
  };
  const serials = prints.data?.items.map(({ serial }) => serial) ?? [];
  return (
    <>
      <div class="row" style={{ justifyContent: 'space-between' }}>
        <h1 tabIndex={-1}>Test house</h1>
        <a href="#/calibrations">Calibrations</a>
      </div>
      <div class="grid">
        <PrintForm onDone={refresh} />
        <MeasurementForm serials={serials} onDone={refresh} />
        <CsvForm onDone={refresh} />
      </div>
      <Acceptances />
      <div class="grid">
        <section class="card scroll">
          <h2>Prints, newest first</h2>
          <Shown of={prints}>
            {({ items }) =>
              items.length === 0 ? (
                <p class="quiet">None yet.</p>
              ) : (
                <table>
                  <thead>
                    <tr>
                      {['serial', 'version', 'material', 'build', 'printed'].map((name) => (
                        <th key={name} scope="col">
                          {name}
                        </th>
                      ))}
                    </tr>
                  </thead>
                  <tbody>
                    {items.map(({ id, serial, designId, version, material, build, printedOn }) => (
                      <tr key={id}>
                        <th scope="row">{serial}</th>
                        <td>
                          <a href={`#/designs/${designId}`}>{version}</a>
                        </td>
                        <td>{material.key}</td>
                        <td>{build}</td>
                        <td>{printedOn}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              )
            }
          </Shown>
        </section>
        <section class="card scroll">
          <h2>Measurements, newest first</h2>
          <Shown of={measurements}>
            {({ items }) => (items.length === 0 ? <p class="quiet">None yet.</p> : <Measurements items={items} />)}
          </Shown>
        </section>
      </div>
    </>
  );
}

function Measurements({ items }: { items: Answer<'/v1/measurements'>['items'] }) {
  return (
    <table>
      <thead>
        <tr>
          {['serial', 'what', 'mean', 'readings'].map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {items.flatMap(({ id, serial, values, outliers }) =>
          Object.entries(values.quantities as Record<string, number[]>).map(([quantity, readings]) => (
            <tr key={id + quantity}>
              <th scope="row">{serial}</th>
              <td>
                {label(quantity).name} {outliers.length > 0 && <span class="state state-warn">! outlier</span>}
              </td>
              <td>
                {number(readings.reduce((a, b) => a + b, 0) / readings.length)} <span class="unit">{label(quantity).unit}</span>
              </td>
              <td>{readings.length}</td>
            </tr>
          )),
        )}
      </tbody>
    </table>
  );
}
