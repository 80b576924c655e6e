import type { StrutGraph } from './graph.ts';

/** Struts sorted into the boxes of a uniform grid: box i lists items[ptr[i] .. ptr[i+1]). A strut is in every box its bounding box touches. */
export interface StrutGrid {
  readonly size: number;
  readonly origin: readonly [number, number, number];
  readonly count: readonly [number, number, number];
  readonly ptr: Int32Array;
  readonly items: Int32Array;
}

/** At most this many boxes a strut: beyond it empty boxes cost more than the pairs they spare. */
const BOXES_PER_STRUT = 4;

/**
 * Uniform grid over the axes of all struts (radii are left to the query). The box size is the mean extent of a strut, or what keeps the
 * number of boxes in proportion to the number of struts. Needs at least one strut.
 */
export function strutGrid(graph: StrutGraph): StrutGrid {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  let extents = 0;
  for (let k = 0; k < graph.strutCount; k++) {
    let extent = 0;
    for (let axis = 0; axis < 3; axis++) {
      const a = graph.xyz[3 * graph.ends[2 * k] + axis];
      const b = graph.xyz[3 * graph.ends[2 * k + 1] + axis];
      low[axis] = Math.min(low[axis], a, b);
      high[axis] = Math.max(high[axis], a, b);
      extent = Math.max(extent, Math.abs(a - b));
    }
    extents += extent;
  }
  const volume = (high[0] - low[0]) * (high[1] - low[1]) * (high[2] - low[2]);
  const size = Math.max(extents / graph.strutCount, Math.cbrt(volume / (BOXES_PER_STRUT * graph.strutCount)), Number.MIN_VALUE);
  const span = (axis: number) => Math.floor((high[axis] - low[axis]) / size) + 1;
  const empty = { size, origin: low, count: [span(0), span(1), span(2)] as const };
  return { ...empty, ...sortIntoBoxes(graph, empty) };
}

function sortIntoBoxes(graph: StrutGraph, grid: Pick<StrutGrid, 'size' | 'origin' | 'count'>) {
  const ptr = new Int32Array(grid.count[0] * grid.count[1] * grid.count[2] + 1);
  for (let k = 0; k < graph.strutCount; k++) visitBoxes(graph, grid, k, 0, (box) => ptr[box + 1]++);
  for (let box = 1; box < ptr.length; box++) ptr[box] += ptr[box - 1];
  const items = new Int32Array(ptr[ptr.length - 1]);
  const next = ptr.slice();
  for (let k = 0; k < graph.strutCount; k++) visitBoxes(graph, grid, k, 0, (box) => (items[next[box]++] = k));
  return { ptr, items };
}

/** Calls `visit` for every box within `reach` (mm, may be infinite) of the bounding box of strut k's axis. */
export function visitBoxes(
  graph: StrutGraph,
  grid: Pick<StrutGrid, 'size' | 'origin' | 'count'>,
  k: number,
  reach: number,
  visit: (box: number) => void,
): void {
  const a = 3 * graph.ends[2 * k];
  const b = 3 * graph.ends[2 * k + 1];
  const first = (axis: number) => boxOf(Math.min(graph.xyz[a + axis], graph.xyz[b + axis]) - reach, grid, axis);
  const last = (axis: number) => boxOf(Math.max(graph.xyz[a + axis], graph.xyz[b + axis]) + reach, grid, axis);
  const [x0, x1, y0, y1, z0, z1] = [first(0), last(0), first(1), last(1), first(2), last(2)];
  for (let x = x0; x <= x1; x++) {
    for (let y = y0; y <= y1; y++) {
      for (let z = z0; z <= z1; z++) visit((x * grid.count[1] + y) * grid.count[2] + z);
    }
  }
}

const boxOf = (value: number, grid: Pick<StrutGrid, 'size' | 'origin' | 'count'>, axis: number) =>
  Math.min(Math.max(Math.floor((value - grid.origin[axis]) / grid.size), 0), grid.count[axis] - 1);
