import { type Columns, markDominated } from './maxima.ts';

/**
 * Which points no other dominates: no other is at least as small in every coordinate and smaller in one (what is to be large is given with its sign
 * changed). Indices of `points`, ascending; all of equal points are kept. Coordinates are finite. O(n log n) of two coordinates, O(n log^(k-2) n) of k
 * (Kung, Luccio and Preparata 1975).
 */
export function front(points: readonly ArrayLike<number>[]): number[] {
  if (points.length === 0) return [];
  const columns = Array.from(points[0], (_, j) => Float64Array.from(points, (each) => each[j]));
  const order = Uint32Array.from(points.keys()).sort((a, b) => compared(columns, a, b) || a - b);
  const isFirst = (place: number) => place === 0 || compared(columns, order[place - 1], order[place]) !== 0;
  const distinct = order.filter((_, place) => isFirst(place));
  const gone = new Uint8Array(points.length);
  markMaxima(columns, distinct, gone);
  const found: number[] = [];
  let first = 0;
  for (const [place, each] of order.entries()) {
    if (isFirst(place)) first = each;
    if (!gone[first]) found.push(each);
  }
  return found.sort((a, b) => a - b);
}

/** Order by the first coordinate, where that is equal by the second, and so on: who dominates comes first. */
function compared(columns: Columns, a: number, b: number): number {
  for (const column of columns) if (column[a] !== column[b]) return column[a] - column[b];
  return 0;
}

/** Of distinct points in that order, marks what something earlier dominates. The later half is held against what is left of the earlier one. */
function markMaxima(columns: Columns, ordered: Uint32Array, gone: Uint8Array): void {
  if (ordered.length < 2) return;
  const middle = ordered.length >> 1;
  const [earlier, later] = [ordered.subarray(0, middle), ordered.subarray(middle)];
  markMaxima(columns, earlier, gone);
  markMaxima(columns, later, gone);
  markDominated(columns, { by: earlier.filter((a) => !gone[a]), of: later, coordinates: columns.length }, gone);
}
