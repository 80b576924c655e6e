import type { Answer } from '../client.ts';
import { Newest } from '../parts/newest.tsx';
import { Shown, State } from '../parts/shown.tsx';
import { Table } from '../parts/table.tsx';
import { TrayForm } from '../parts/tray-form.tsx';
import { TrayPicture, versionColour } from '../parts/tray-picture.tsx';
import { Facts, Value } from '../parts/value.tsx';
import { isLive, useResource } from '../use-resource.ts';
import { ago } from '../words.ts';

type Tray = Answer<'/v1/trays/{id}'>;
type Result = NonNullable<Tray['result']>;

/** Builds of several versions: where each part stands, what the build takes and what each part costs. */
export function Trays({ id }: { id: string | null }) {
  return id ? <One id={id} /> : <All />;
}

function All() {
  return (
    <>
      <h1 tabIndex={-1}>Build trays</h1>
      <div class="grid">
        <TrayForm />
        <section class="card">
          <h2>Planned</h2>
          <Newest<Answer<'/v1/trays'>['items'][number]> of="/v1/trays">
            {(items) => (
              <ul class="plain">
                {items.map(({ id, status, parts, createdAt }) => (
                  <li key={id}>
                    <a href={`#/trays/${id}`}>
                      {parts.reduce((sum, { count }) => sum + count, 0)} parts of {parts.length}{' '}
                      {parts.length === 1 ? 'version' : 'versions'}
                    </a>{' '}
                    <State is={status} /> <span class="quiet">{ago(createdAt)}</span>
                  </li>
                ))}
              </ul>
            )}
          </Newest>
        </section>
      </div>
    </>
  );
}

function One({ id }: { id: string }) {
  const tray = useResource<Tray>(`/v1/trays/${id}`, { everyMs: 1000, isLive });
  return (
    <Shown of={tray}>
      {({ status, stage, progressPct, input, result, error }) => (
        <>
          <h1 tabIndex={-1}>Build tray</h1>
          <p>
            <State is={status} /> {result && !result.fits && <span class="state state-fail">✗ not every part finds a place</span>}
          </p>
          {isLive({ status }) && (
            <label>
              {stage ?? 'waiting for a worker'}
              <progress max={100} value={progressPct} />
            </label>
          )}
          {error && (
            <div class="problem" role="alert">
              {error.message}
            </div>
          )}
          {result && <Plan input={input} result={result} />}
        </>
      )}
    </Shown>
  );
}

function Plan({ input, result }: { input: Tray['input']; result: Result }) {
  const { build, cost, parts, placements, leastGapMm, warnings } = result;
  return (
    <>
      <div class="beside">
        <section class="card">
          <h2>Where each part stands</h2>
          <TrayPicture chamberMm={input.buildVolume.sizeMm} placements={placements} versions={parts.map(({ versionId }) => versionId)} />
        </section>
        <section class="card">
          <h2>What it takes</h2>
          <Facts
            of={[
              ['parts placed', placements.length, ''],
              ['height', build.heightMm, 'mm'],
              ['least gap', leastGapMm, 'mm', 3],
              ['hours', build.totalHours, 'h', 3],
              ['packing', build.packingDensityPct, '%', 3],
              ['powder', cost?.powderKgPerBuild, 'kg', 3],
              ['cost of powder', cost?.powderCost.amount, cost?.powderCost.currency ?? ''],
              ['cost of machine', cost?.machineCost.amount, cost?.machineCost.currency ?? ''],
              ['cost of the build', cost?.total.amount, cost?.total.currency ?? ''],
            ]}
          />
        </section>
      </div>
      <section class="card scroll">
        <h2>Each version</h2>
        <Table heads={['version', 'placed', 'without a place', 'mass', 'cost of one']}>
          {parts.map(({ versionId, markedName, placed, left, massG, totalPerPart }, k) => (
            <tr key={versionId}>
              <th scope="row">
                <span class="swatch" style={{ background: versionColour(k) }} aria-hidden="true" /> {markedName}
              </th>
              <td>{placed}</td>
              <td>{left}</td>
              <td>
                <Value of={massG} unit="g" />
              </td>
              <td>
                <Value of={totalPerPart?.amount} unit={totalPerPart?.currency ?? ''} />
              </td>
            </tr>
          ))}
        </Table>
        {warnings.map(({ code, message }) => (
          <p key={code}>{message}</p>
        ))}
      </section>
    </>
  );
}
