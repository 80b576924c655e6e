import { LuDecomposition, Matrix } from 'ml-matrix';
import { type FrameTangent, frameTangent, move, tangentOf } from '../../worker/engine/frame/large-frame.ts';
import type { Placement } from '../../worker/engine/frame/large-strut.ts';
import { atRest } from '../engine/frame/placements.ts';
import type { Bars } from './large-rotation.ts';

/** A frame on its path of equilibrium under load factor times a fixed load, by dense algebra: passes limit points. */
export interface Path {
  readonly frame: Bars;
  /** Free unknowns, 6 v + k. */
  readonly free: readonly number[];
  /** Load per unit of the factor, by unknown. */
  readonly load: ReadonlyMap<number, number>;
  readonly placement: Placement;
  readonly tangent: FrameTangent;
  readonly gradient: Float64Array;
  factor: number;
  /** Direction in which the path was last followed: free unknowns, then the factor. */
  direction: Float64Array | null;
  /** Newton's residuals of the last step, for the rate of convergence. */
  residuals: number[];
}

export function pathOf(frame: Bars, held: readonly number[], load: ReadonlyMap<number, number>): Path {
  const tangent = tangentOf(frame.graph);
  const fixed = new Set(held);
  return {
    frame,
    free: Array.from({ length: tangent.n }, (_, k) => k).filter((k) => !fixed.has(k)),
    load,
    placement: atRest(frame.graph.xyz),
    tangent,
    gradient: new Float64Array(tangent.n),
    factor: 0,
    direction: null,
    residuals: [],
  };
}

/** To the load factor given, from where the path is. */
export function toFactor(path: Path, factor: number): void {
  correct(path, (_, last) => ({ row: new Float64Array(path.free.length), column: 1, miss: last ? 0 : factor - path.factor }));
}

/** To where unknown `unknown`, a shift, has brought its node: its coordinate is `to`. */
export function toPlace(path: Path, unknown: number, to: number): void {
  const row = Float64Array.from(path.free, (k) => (k === unknown ? 1 : 0));
  const at = 3 * Math.floor(unknown / 6) + (unknown % 6);
  correct(path, () => ({ row, column: 0, miss: to - path.placement.positions[at] }));
}

/** On along the path by `length` (shifts, spins and `scale` times the factor taken together; Riks 1979). */
export function along(path: Path, length: number, scale: number): void {
  const { free } = path;
  const { solve } = linearise(path);
  const load = Float64Array.from(free, (k) => path.load.get(k) ?? 0);
  const rate = solve(load);
  const size = Math.sqrt(rate.reduce((sum, x) => sum + x * x, scale * scale));
  const direction = Float64Array.from([...rate, 1], (x) => x / size);
  const measure = (x: Float64Array, y: Float64Array) =>
    x.reduce((sum, each, k) => sum + each * y[k] * (k === free.length ? scale * scale : 1), 0);
  if (path.direction && measure(path.direction, direction) < 0) direction.forEach((x, k) => (direction[k] = -x));
  path.direction = direction;
  const gone = new Float64Array(free.length + 1);
  correct(path, (step) => {
    if (step) step.forEach((x, k) => (gone[k] += x));
    return {
      row: direction.subarray(0, free.length),
      column: scale * scale * direction[free.length],
      miss: length - measure(direction, gone),
    };
  });
}

interface Condition {
  readonly row: Float64Array;
  readonly column: number;
  readonly miss: number;
}

/** Newton on equilibrium and one linear condition on the step, row . dq + column d(factor) = miss. */
function correct(path: Path, condition: (step: Float64Array | null, last: boolean) => Condition): void {
  const { free } = path;
  const load = Float64Array.from(free, (k) => path.load.get(k) ?? 0);
  const moves = new Float64Array(path.tangent.n);
  let step: Float64Array | null = null;
  path.residuals = [];
  for (let round = 0; round < 60; round++) {
    const { residual, solve } = linearise(path);
    const { row, column, miss } = condition(step, round > 0);
    const size = Math.sqrt(residual.reduce((sum, x) => sum + x * x, 0));
    path.residuals.push(size);
    if (round > 0 && size < 1e-8 * (1 + scaleOf(path)) && Math.abs(miss) < 1e-9) return;
    const [a, b] = [solve(load), solve(residual.map((x) => -x))];
    const dot = (x: Float64Array) => x.reduce((sum, each, k) => sum + each * row[k], 0);
    const more = (miss - dot(b)) / (column + dot(a));
    step = Float64Array.from([...b.map((x, k) => x + more * a[k]), more]);
    // At most half a radian or so at once.
    const most = free.reduce((far, k, at) => (k % 6 < 3 ? far : Math.max(far, Math.abs(step![at]))), 0);
    const share = Math.min(1, 0.5 / most);
    step = step.map((x) => share * x);
    free.forEach((k, at) => (moves[k] = step![at]));
    const next = { positions: path.placement.positions.slice(), rotations: path.placement.rotations.slice() };
    move(path.placement, moves, 1, next);
    path.placement.positions.set(next.positions);
    path.placement.rotations.set(next.rotations);
    path.factor += step[free.length];
  }
  throw new Error(`no equilibrium: residuals ${path.residuals.slice(-4)}`);
}

const scaleOf = ({ gradient }: Path) => gradient.reduce((most, each) => Math.max(most, Math.abs(each)), 0);

function linearise(path: Path): { residual: Float64Array; solve: (b: Float64Array) => Float64Array } {
  const { frame, placement, gradient, tangent, free, load, factor } = path;
  frameTangent(frame, placement, gradient, tangent);
  const placeOf = new Int32Array(tangent.n).fill(-1);
  free.forEach((k, at) => (placeOf[k] = at));
  const K = Matrix.zeros(free.length, free.length);
  for (let c = 0; c < tangent.n; c++) {
    if (placeOf[c] < 0) continue;
    for (let p = tangent.colPtr[c]; p < tangent.colPtr[c + 1]; p++) {
      const row = placeOf[tangent.rowIdx[p]];
      if (row < 0) continue;
      K.set(row, placeOf[c], tangent.values[p]);
      K.set(placeOf[c], row, tangent.values[p]);
    }
  }
  const lu = new LuDecomposition(K);
  return {
    residual: Float64Array.from(free, (k) => gradient[k] - factor * (load.get(k) ?? 0)),
    solve: (b) => Float64Array.from(lu.solve(Matrix.columnVector(Array.from(b))).to1DArray()),
  };
}

/** Unknowns that leave the plane z = 0, of all nodes. */
export const outOfPlane = (nodeCount: number): number[] =>
  Array.from({ length: nodeCount }, (_, v) => [2, 3, 4].map((k) => 6 * v + k)).flat();
