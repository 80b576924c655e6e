/** A Goldberg tiling and the mean size of its cells on a carrier. */
export interface TilingSize {
  m: number;
  n: number;
  triangulationNumber: number;
  cellSizeMm: number;
}

const MAX_T = 400;
/** Tilings listed on each side of the one at hand. */
const EACH_SIDE = 2;

/** Mean size across flats (mm) of 10T + 2 equal cells on a sphere: sqrt(3) times the edge of a regular hexagon of that area. */
export const cellSize = (T: number, radius: number): number =>
  Math.sqrt(3) * radius * Math.sqrt((8 * Math.PI) / (3 * Math.sqrt(3) * (10 * T + 2)));

/** The tilings next larger and next smaller in cell size, by size; of several with one T the one with mirror planes, else the first. */
export function neighbouringTilings(T: number, radius: number): TilingSize[] {
  const all = everyTiling();
  const at = all.findIndex((each) => each.T === T);
  return all
    .slice(Math.max(0, at - EACH_SIDE), at + EACH_SIDE + 1)
    .filter((each) => each.T !== T)
    .map(({ m, n, T: number }) => ({ m, n, triangulationNumber: number, cellSizeMm: cellSize(number, radius) }));
}

/** One tiling for every T up to the largest, ascending. */
function everyTiling(): { m: number; n: number; T: number }[] {
  const byT = new Map<number, { m: number; n: number; T: number }>();
  for (let m = 1; m * m <= MAX_T; m++) {
    for (let n = 0; n <= m && m * m + m * n + n * n <= MAX_T; n++) {
      const T = m * m + m * n + n * n;
      if (!byT.has(T) || n === 0 || n === m) byT.set(T, { m, n, T });
    }
  }
  return [...byT.values()].sort((a, b) => a.T - b.T);
}
