/** Number of points of a full grid with so many values along each axis. */
export const gridSize = (counts: readonly number[]): number => counts.reduce((product, count) => product * count, 1);

/** Place along each axis of point `index` of a full grid, the last axis running fastest: the digits of index in the mixed radix of the counts. */
export function gridPoint(index: number, counts: readonly number[]): number[] {
  const places = new Array<number>(counts.length);
  let rest = index;
  for (let axis = counts.length - 1; axis >= 0; axis--) {
    places[axis] = rest % counts[axis];
    rest = Math.floor(rest / counts[axis]);
  }
  return places;
}
