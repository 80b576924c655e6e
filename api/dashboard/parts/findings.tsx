import { useState } from 'preact/hooks';
import type { Answer } from '../client.ts';
import { Bounce } from './bounce.tsx';
import { Checks } from './checks.tsx';
import { Files } from './files.tsx';
import { LatticeView, type Marked, type Pose } from './lattice-view.tsx';
import { Drawing, Plotted } from './plotted.tsx';
import { State } from './shown.tsx';
import { Targets } from './targets.tsx';
import { Facts } from './value.tsx';

type Evaluation = Answer<'/v1/evaluations/{id}'>;
type Result = NonNullable<Evaluation['result']>;

/** What an evaluation found: the lattice beside its targets and checks, then mechanics, making, files and cautions. */
export function Findings({ evaluation, result }: { evaluation: Evaluation; result: Result }) {
  const [marked, setMarked] = useState<Marked | null>(null);
  const { printability, targets, warnings } = result;
  return (
    <>
      <div class="beside">
        <Lattice id={evaluation.id} result={result} marked={marked} />
        <div class="stack">
          <section class="card">
            <h2>Against the original</h2>
            <Targets targets={targets} />
          </section>
          <section class="card">
            <h2>
              Can it be made? <State is={printability.verdict} />
            </h2>
            <Checks checks={printability.checks} parameterSet={evaluation.input.parameterSet} marked={marked} onMark={setMarked} />
          </section>
        </div>
      </div>
      <Mechanics id={evaluation.id} result={result} />
      <Making id={evaluation.id} result={result} />
      <section class="card">
        <h2>To be read with it</h2>
        <ul>
          {warnings.map(({ code, message }) => (
            <li key={code + message}>{message}</li>
          ))}
        </ul>
      </section>
    </>
  );
}

function Lattice({ id, result, marked }: { id: string; result: Result; marked: Marked | null }) {
  const [pose, setPose] = useState<Pose | null>(null);
  const { geometry, massProperties, balance, rebound } = result;
  const openings = geometry.cellOpeningMm.map(({ min }) => min);
  return (
    <section class="card">
      <h2>The lattice</h2>
      <LatticeView id={id} marked={marked} pose={pose} />
      {rebound && <Bounce id={id} onPose={setPose} />}
      <Facts
        of={[
          ['outside diameter', geometry.outsideDiameterMm, 'mm', 5],
          ['mass', massProperties.massG, 'g'],
          ['struts', geometry.strutCount, ''],
          ['narrowest cell', openings.length > 0 ? Math.min(...openings) : null, 'mm', 3],
          ['off centre by', balance.centreOfMassOffsetMm, 'mm', 3],
          ['halves differ by', balance.halfMassDifferencePct, '%', 3],
        ]}
      />
    </section>
  );
}

function Mechanics({ id, result: { stiffness, rebound, life } }: { id: string; result: Result }) {
  if (!stiffness && !rebound) return null;
  return (
    <div class="grid">
      {stiffness && (
        <section class="card">
          <h2>Pressed between plates</h2>
          <Plotted of={stiffness} draw={(plots) => plots.forceDeflectionPlot(stiffness)} />
          <Facts
            of={[
              ['stiffness', stiffness.secantNPerMm, 'N/mm'],
              ['at first', stiffness.initialNPerMm, 'N/mm'],
              ['pressed by', stiffness.atDeflectionMm, 'mm'],
            ]}
          />
        </section>
      )}
      {rebound && (
        <section class="card">
          <h2>Dropped from {rebound.dropHeightMm} mm</h2>
          <Drawing id={id} name="height.svg" />
          <Facts
            of={[
              ['comes back to', rebound.reboundHeightMm?.mean, 'mm'],
              ['at least', rebound.reboundHeightMm?.min, 'mm'],
              ['at most', rebound.reboundHeightMm?.max, 'mm'],
              ['restitution', rebound.restitution?.mean, '', 3],
              ['contact', rebound.contactTimeMs, 'ms'],
              ['peak force', rebound.peakForceN, 'N'],
              ['peak strain', rebound.peakStrainPct, '%', 3],
              ['bounces until it breaks', life?.cyclesToFailure, '', 2],
            ]}
          />
        </section>
      )}
      {rebound && (
        <section class="card">
          <h2>Where the energy went</h2>
          <Plotted of={rebound} draw={(plots) => plots.energyPlot(rebound.energy)} />
          <p class="quiet">The account is off by {Math.abs(rebound.energy.balanceErrorPct).toFixed(2)} %.</p>
        </section>
      )}
    </div>
  );
}

function Making({ id, result: { build, cost, rebound, stiffness } }: { id: string; result: Result }) {
  return (
    <div class="grid">
      <section class="card">
        <h2>Printed</h2>
        <Facts
          of={[
            ['parts in a build', build.partsPerBuild, ''],
            ['hours for a build', build.totalHours, 'h', 3],
            ['layers', build.layerCount, ''],
            ['cost of a part', cost?.totalPerPart.amount, cost?.totalPerPart.currency ?? ''],
            ['of that powder', cost?.powderCostPerPart.amount, cost?.powderCostPerPart.currency ?? ''],
            ['of that machine', cost?.machineCostPerPart.amount, cost?.machineCostPerPart.currency ?? ''],
          ]}
        />
        <Drawing id={id} name="layer-area.svg" />
      </section>
      <section class="card">
        <h2>Files</h2>
        <Files id={id} depth={rebound ? 'full' : stiffness ? 'static' : 'geometry'} />
      </section>
    </div>
  );
}
