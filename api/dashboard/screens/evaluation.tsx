import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { Files } from '../parts/files.tsx';
import { LatticeView, type Marked } from '../parts/lattice-view.tsx';
import { Plotted } from '../parts/plotted.tsx';
import { Age, Problem, Shown, State } from '../parts/shown.tsx';
import { Targets } from '../parts/targets.tsx';
import { Quantity, Value } from '../parts/value.tsx';
import { useResource } from '../use-resource.ts';

type Evaluation = Answer<'/v1/evaluations/{id}'>;
type Result = NonNullable<Evaluation['result']>;
type Check = Result['printability']['checks'][number];

/** One evaluation: how far it is, then what it found. */
export function EvaluationScreen({ id }: { id: string }) {
  const evaluation = useResource<Evaluation>(`/v1/evaluations/${id}`, {
    everyMs: 700,
    isLive: ({ status }) => status === 'queued' || status === 'running',
  });
  return (
    <Shown of={evaluation}>
      {(found) => (
        <>
          <h1 tabIndex={-1}>{found.version === null ? 'Evaluation' : `Version ${found.version}`}</h1>
          <p class="row">
            <State is={found.status} />
            {found.designId && <a href={`#/designs/${found.designId}`}>its design</a>}
            {found.stage && <span>{found.stage}</span>}
            {evaluation.at && found.finishedAt === null && <Age at={evaluation.at} />}
          </p>
          {found.finishedAt === null && <UnderWay evaluation={found} onChange={evaluation.refresh} />}
          {found.error && (
            <div class="problem" role="alert">
              <strong>{found.error.message}</strong> <code>{found.error.code}</code>
            </div>
          )}
          {found.result && <Findings id={id} result={found.result} />}
        </>
      )}
    </Shown>
  );
}

function UnderWay({ evaluation: { id, progressPct, stage }, onChange }: { evaluation: Evaluation; onChange: () => void }) {
  const [error, setError] = useState<Refused | null>(null);
  const stop = () => ask(`/v1/evaluations/${id}`, { method: 'DELETE' }).then(onChange, setError);
  return (
    <div class="card">
      <label>
        {stage ?? 'waiting for a worker'}, {Math.round(progressPct)} %
        <progress max={100} value={progressPct} />
      </label>
      <button type="button" onClick={stop}>
        Cancel
      </button>
      {error && <Problem error={error} />}
    </div>
  );
}

function Findings({ id, result }: { id: string; result: Result }) {
  const [marked, setMarked] = useState<Marked | null>(null);
  const { geometry, massProperties, balance, stiffness, rebound, life, build, cost, printability, targets, warnings } = result;
  return (
    <div class="grid">
      <section class="card">
        <h2>Against the original</h2>
        <Targets targets={targets} />
      </section>
      <section class="card">
        <h2>The lattice</h2>
        <LatticeView id={id} marked={marked} />
        <dl>
          <dt>outside diameter</dt>
          <dd>
            <Value of={geometry.outsideDiameterMm} unit="mm" digits={5} />
          </dd>
          <dt>mass</dt>
          <dd>
            <Value of={massProperties.massG} unit="g" />
          </dd>
          <dt>struts, nodes</dt>
          <dd>
            {geometry.strutCount}, {geometry.nodeCount}
          </dd>
          <dt>off centre by</dt>
          <dd>
            <Value of={balance.centreOfMassOffsetMm} unit="mm" digits={3} />
          </dd>
        </dl>
      </section>
      <section class="card wide">
        <h2>
          Can it be made? <State is={printability.verdict} />
        </h2>
        <Checks checks={printability.checks} marked={marked} onMark={setMarked} />
      </section>
      {stiffness && (
        <section class="card">
          <h2>Pressed between plates</h2>
          <Plotted of={stiffness} draw={(plots) => plots.forceDeflectionPlot(stiffness)} />
          <dl>
            <dt>stiffness</dt>
            <dd>
              <Value of={stiffness.secantNPerMm} unit="N/mm" />
            </dd>
            <dt>at first</dt>
            <dd>
              <Value of={stiffness.initialNPerMm} unit="N/mm" />
            </dd>
          </dl>
        </section>
      )}
      {rebound && (
        <section class="card">
          <h2>Dropped</h2>
          <dl>
            <dt>from</dt>
            <dd>
              <Value of={rebound.dropHeightMm} unit="mm" />
            </dd>
            <dt>comes back to</dt>
            <dd>
              <Value of={rebound.reboundHeightMm?.mean} unit="mm" />{' '}
              <span class="quiet">
                ({Math.round(rebound.reboundHeightMm?.min ?? 0)} to {Math.round(rebound.reboundHeightMm?.max ?? 0)})
              </span>
            </dd>
            <dt>restitution</dt>
            <dd>
              <Value of={rebound.restitution?.mean} unit="" digits={3} />
            </dd>
            <dt>peak force</dt>
            <dd>
              <Quantity name="peakForceN" of={rebound.peakForceN} />
            </dd>
            <dt>contact</dt>
            <dd>
              <Quantity name="contactTimeMs" of={rebound.contactTimeMs} />
            </dd>
            <dt>peak strain</dt>
            <dd>
              <Quantity name="peakStrainPct" of={rebound.peakStrainPct} />
            </dd>
            <dt>bounces until it breaks</dt>
            <dd>{life ? <Value of={life.cyclesToFailure} unit="" digits={2} /> : '–'}</dd>
          </dl>
          <Plotted of={rebound} draw={(plots) => plots.energyPlot(rebound.energy)} />
        </section>
      )}
      <section class="card">
        <h2>Printed</h2>
        <dl>
          <dt>parts in a build</dt>
          <dd>{build.partsPerBuild}</dd>
          <dt>hours for a build</dt>
          <dd>
            <Value of={build.totalHours} unit="h" digits={3} />
          </dd>
          <dt>cost of a part</dt>
          <dd>{cost ? <Value of={cost.totalPerPart.amount} unit={cost.totalPerPart.currency} /> : 'does not fit'}</dd>
        </dl>
      </section>
      <section class="card">
        <h2>Files</h2>
        <Files id={id} depth={rebound ? 'full' : stiffness ? 'static' : 'geometry'} />
      </section>
      <section class="card wide">
        <h2>To be read with it</h2>
        <ul>
          {warnings.map(({ code, message }) => (
            <li key={code + message}>{message}</li>
          ))}
        </ul>
      </section>
    </div>
  );
}

const WORST_FIRST = ['fail', 'warn', 'not-checked', 'pass'];

function Checks({ checks, marked, onMark }: { checks: readonly Check[]; marked: Marked | null; onMark: (marked: Marked | null) => void }) {
  const sorted = [...checks].sort((a, b) => WORST_FIRST.indexOf(a.status) - WORST_FIRST.indexOf(b.status));
  return (
    <div class="scroll">
      <table>
        <thead>
          <tr>
            <th scope="col">check</th>
            <th scope="col">state</th>
            <th scope="col">what was found</th>
            <th scope="col">where</th>
          </tr>
        </thead>
        <tbody>
          {sorted.map(({ id, status, message, where }) => (
            <tr key={id}>
              <th scope="row">{id.replaceAll('-', ' ')}</th>
              <td>
                <State is={status} />
              </td>
              <td>{message}</td>
              <td>
                {where.some(({ kind }) => kind !== 'layer') && (
                  <button
                    type="button"
                    aria-pressed={marked?.name === id}
                    onClick={() => onMark(marked?.name === id ? null : { name: id, places: where })}
                  >
                    {marked?.name === id ? 'Hide' : `Show ${where.length}`}
                  </button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
