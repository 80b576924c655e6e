import { arrive, prepare, pushOfFloor } from '../engine/impact/index.ts';
import { strutFrame } from '../engine/index.ts';
import { inTurn, type Timed } from './clock.ts';
import { doubleShell, latticeOf } from './lattices.ts';
import { plainStep } from './plain-step.ts';
import { checksumOf, type Row } from './row.ts';

const BRANCHES = [
  { ratio: 0.3, timeS: 4e-4 },
  { ratio: 0.3, timeS: 1e-2 },
];
const MODULUS_MPA = 40;
/** Steps in one timed run, all from the same start: the first of a fall onto the floor, so nothing ever collapses. */
const STEPS = 200;
const FALL_MM_S = 500;
const TIMES = { warmUps: 4, rounds: 20 };

/** The step of the impact dynamics, with two branches, beside a plain loop over the same lattice; then its cost a strut as lattices grow. */
export async function impactRows(): Promise<Row[]> {
  return [stepRow(4, 4), growthRow([3, 5, 7, 10])];
}

function stepRow(m: number, n: number): Row {
  const works = [compiledSteps(m, n), plainSteps(m, n)];
  const [compiled, plain] = inTurn(
    works.map(({ run }) => run),
    TIMES,
  );
  const { struts } = works[0];
  const ratio = plain.cpuMs / compiled.cpuMs;
  const { minMs, medianMs, maxMs, last } = compiled;
  return {
    name: 'impact, one step',
    input: `GP(${m},${n}), two layers at 90 and 75 mm: ${struts} struts, two branches, ${STEPS} steps of nodes and struts`,
    checksum: checksumOf(last),
    ...{ minMs, medianMs, maxMs },
    beside: `${nanoseconds(compiled, struts)} ns a strut-step (processor time), a plain loop over typed arrays ${nanoseconds(plain, struts)} ns: ${ratio.toFixed(2)} times as much`,
    asked: 'at most half the time of the plain loop',
    met: ratio >= 2,
  };
}

function growthRow(sizes: readonly number[]): Row {
  const works = sizes.map((m) => compiledSteps(m, 0));
  const found = inTurn(
    works.map(({ run }) => run),
    TIMES,
  );
  const costs = found.map((each, k) => nanoseconds(each, works[k].struts));
  const growth = Math.max(...costs.map(Number)) / Number(costs[0]);
  const { minMs, medianMs, maxMs, last } = found[found.length - 1];
  return {
    name: 'impact, one step, as lattices grow',
    input: `GP(m,0) with m ${sizes.join(', ')} (T ${sizes.map((m) => m * m).join(', ')}), ${STEPS} steps; times of the largest`,
    checksum: checksumOf(last),
    ...{ minMs, medianMs, maxMs },
    beside: `${costs.join(', ')} ns a strut-step`,
    asked: 'flat: at most 1.5 times that of the smallest',
    met: growth <= 1.5,
  };
}

interface Steps {
  readonly struts: number;
  run(): Float64Array;
}

const nanoseconds = ({ cpuMs }: Timed<unknown>, struts: number): string => ((cpuMs * 1e6) / STEPS / struts).toFixed(1);

function bodyOf(m: number, n: number) {
  const { graph } = latticeOf(doubleShell(m, n, m > 5 ? [2, 2, 2] : [3, 2.5, 2.5]));
  const frame = strutFrame(graph, { modulusMPa: MODULUS_MPA, poisson: 0.45 });
  const relaxation = { longTermMPa: MODULUS_MPA, instantaneousMPa: 1.6 * MODULUS_MPA, branches: BRANCHES };
  const prepared = prepare({ frame, massT: 3e-4, relaxation });
  if (prepared.kind !== 'prepared') throw new Error(prepared.message);
  return prepared;
}

function compiledSteps(m: number, n: number): Steps {
  const prepared = bodyOf(m, n);
  const { lattice, model, stiffness } = prepared;
  const run = () => {
    arrive(prepared, { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], velocity: [0, 0, -FALL_MM_S], spin: [0, 0, 0], friction: 0 });
    for (let k = 0; k < STEPS; k++) {
      lattice.load();
      pushOfFloor(model.nodes, stiffness, lattice.motion);
      lattice.kick();
      lattice.drift();
    }
    return lattice.motion.positions;
  };
  return { struts: model.struts.count, run };
}

function plainSteps(m: number, n: number): Steps {
  const { frame, model, stepS, stiffness } = bodyOf(m, n);
  const { mass, inertia } = model.nodes;
  const floor = frame.graph.xyz.reduce((lowest, x, k) => (k % 3 === 2 ? Math.min(lowest, x) : lowest), 0);
  const plain = plainStep({ frame, mass, inertia, step: stepS, floor, stiffness: stiffness[0], branches: BRANCHES });
  const run = () => {
    plain.start(-FALL_MM_S);
    for (let k = 0; k < STEPS; k++) plain.run();
    return plain.positions;
  };
  return { struts: frame.graph.strutCount, run };
}
