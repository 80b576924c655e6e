import { useState } from 'preact/hooks';
import type { Answer } from '../client.ts';
import { Acceptances } from '../parts/acceptances.tsx';
import { CsvForm } from '../parts/csv-form.tsx';
import { MeasurementForm } from '../parts/measurement-form.tsx';
import { Newest } from '../parts/newest.tsx';
import { PrintForm } from '../parts/print-form.tsx';
import { Table } from '../parts/table.tsx';
import { useResource } from '../use-resource.ts';
import { label, number } from '../words.ts';

type Measured = Answer<'/v1/measurements'>['items'][number];

/** What came back from the test house: printed parts, what was measured on them, and the ways to enter both. */
export function TestHouse() {
  const prints = useResource<Answer<'/v1/prints'>>('/v1/prints?limit=200');
  const [turn, setTurn] = useState(0);
  const refresh = () => {
    prints.refresh();
    setTurn(turn + 1);
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
          <Newest<Answer<'/v1/prints'>['items'][number]> key={turn} of="/v1/prints">
            {(items) => (
              <Table heads={['serial', 'version', 'material', 'build', 'printed']}>
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
              </Table>
            )}
          </Newest>
        </section>
        <section class="card scroll">
          <h2>Measurements, newest first</h2>
          <Newest<Measured> key={turn} of="/v1/measurements">
            {(items) => <Measurements items={items} />}
          </Newest>
        </section>
      </div>
    </>
  );
}

function Measurements({ items }: { items: readonly Measured[] }) {
  return (
    <Table heads={['serial', 'what', 'mean', 'readings']}>
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
    </Table>
  );
}
