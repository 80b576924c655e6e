import { massMatrix, stiffnessMatrix, strutFrame } from '../engine/frame/index.ts';
import { analyse, factorise, lowestModes, type SparseMatrix, solve, submatrix } from '../engine/sparse/index.ts';
import { timed } from './clock.ts';
import { doubleShell, latticeOf } from './lattices.ts';
import { checksumOf, type Row, shownMs } from './row.ts';
import { scipySolve } from './scipy.ts';

const ELASTIC = { modulusMPa: 60, poisson: 0.45 };
const DENSITY_T_MM3 = 1.1e-9;
const FREQUENCIES = 10;
const RIGID_MOTIONS = 6;
/** Below zero, of the order of the lowest frequency's square, (rad/s)^2. */
const SHIFT = -1e4;
const NODE_UNKNOWNS = 6;

/** The static solve of a frame beside SciPy's, its lowest frequencies, and what both cost as lattices grow. */
export async function sparseRows(): Promise<Row[]> {
  return [await solveRow(), await modesRow(), await fillRow()];
}

function frameOf(m: number, n: number) {
  return strutFrame(latticeOf(doubleShell(m, n, m > 5 ? [2, 2, 2] : [3, 2.5, 2.5])).graph, ELASTIC);
}

/** Stiffness with the first node held, which makes it definite, and a push on the last one. */
function heldProblem(m: number, n: number): { matrix: SparseMatrix; load: Float64Array } {
  const whole = stiffnessMatrix(frameOf(m, n));
  const matrix = submatrix(
    whole,
    Int32Array.from({ length: whole.n - NODE_UNKNOWNS }, (_, k) => k + NODE_UNKNOWNS),
  );
  const load = new Float64Array(matrix.n);
  load[matrix.n - NODE_UNKNOWNS] = 1;
  return { matrix, load };
}

/** Order, symbolic phase, numeric phase, one solve. */
function solved({ matrix, load }: { matrix: SparseMatrix; load: Float64Array }): Float64Array {
  const factor = factorise(analyse(matrix), matrix);
  if (factor.kind !== 'factor') throw new Error(`pivot ${factor.pivot} at ${factor.column}`);
  const x = new Float64Array(matrix.n);
  solve(factor, load, x);
  return x;
}

async function solveRow(): Promise<Row> {
  const problem = heldProblem(3, 3);
  const found = await timed(() => solved(problem), { warmUps: 10, runs: 20 });
  const { minMs, medianMs, maxMs, last } = found;
  const input = `stiffness of GP(3,3), two layers, one node held: ${problem.matrix.n} unknowns; order, both phases, one solve`;
  const row = { name: 'sparse, static solve', input, checksum: checksumOf(last), minMs, medianMs, maxMs };
  const peer = await scipySolve(problem.matrix, problem.load, 20);
  if (!peer) return { ...row, beside: 'no python3 with SciPy here: no peer beside it' };
  const ratio = peer.cpuMs / found.cpuMs;
  const size = Math.max(...last.map(Math.abs));
  const apart = Math.max(...last.map((each, k) => Math.abs(each - peer.x[k]))) / size;
  return {
    ...row,
    beside: `mean processor time ${shownMs(found.cpuMs)}, all threads; splu of SciPy ${peer.version} (${peer.ordering}) ${shownMs(peer.cpuMs)}, at its best ${shownMs(peer.bestMs)}: ${ratio.toFixed(2)} times as much; answers ${apart.toExponential(0)} apart`,
    asked: 'no slower than SciPy',
    met: ratio >= 1,
  };
}

async function modesRow(): Promise<Row> {
  const frame = frameOf(3, 3);
  const stiffness = stiffnessMatrix(frame);
  const mass = massMatrix(frame, { densityTMm3: DENSITY_T_MM3, poisson: ELASTIC.poisson });
  const options = { count: FREQUENCIES + RIGID_MOTIONS, shift: SHIFT, seed: 1, tolerance: 1e-7 };
  const found = await timed(
    () => {
      const modes = lowestModes(stiffness, mass, options);
      if (modes.kind !== 'modes') throw new Error(modes.kind);
      return modes.eigenvalues.slice(RIGID_MOTIONS).map((each) => Math.sqrt(each) / (2 * Math.PI));
    },
    { warmUps: 1, runs: 5 },
  );
  const { minMs, medianMs, maxMs, last, cpuMs } = found;
  return {
    name: 'sparse, ten lowest frequencies',
    input: `GP(3,3), two layers, free: ${stiffness.n} unknowns, ${options.count} modes of which ${RIGID_MOTIONS} are rigid, residuals 1e-7`,
    checksum: checksumOf(Array.from(last, (each) => Number(each.toPrecision(6)))),
    ...{ minMs, medianMs, maxMs },
    beside: `processor time ${shownMs(cpuMs)}; from ${last[0].toFixed(2)} to ${last[FREQUENCIES - 1].toFixed(2)} Hz`,
    asked: 'within 1 s of one core',
    met: cpuMs <= 1000,
  };
}

async function fillRow(): Promise<Row> {
  const told: string[] = [];
  const sizes: readonly (readonly [number, number])[] = [
    [3, 0],
    [3, 3],
    [5, 0],
    [7, 0],
    [10, 0],
  ];
  for (const [m, n] of sizes) {
    const problem = heldProblem(m, n);
    const { cpuMs } = await timed(() => solved(problem), { warmUps: 2, runs: 3 });
    const { multiplications, valuePtr, blocks } = analyse(problem.matrix);
    const fill = valuePtr[blocks.count];
    told.push(
      `T ${m * m + m * n + n * n}: ${(fill / problem.matrix.values.length).toFixed(1)} times the entries (${((8 * fill) / 1e6).toFixed(0)} MB), ${(multiplications / 1e6).toFixed(0)} M multiplications, ${shownMs(cpuMs)}`,
    );
  }
  const largest = heldProblem(10, 0);
  const found = await timed(() => solved(largest), { warmUps: 1, runs: 3 });
  const { minMs, medianMs, maxMs } = found;
  return {
    name: 'sparse, static solve, as lattices grow',
    input: `GP(m,n), two layers, T 9 to 100; times of the largest, ${largest.matrix.n} unknowns`,
    checksum: checksumOf(found.last),
    ...{ minMs, medianMs, maxMs },
    beside: told.join('; '),
  };
}
