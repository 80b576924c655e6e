import { type Address, compiled, type LaneProgram, type Lanes, laneMemory, laneProgram } from '../lanes/index.ts';

/** Rows and columns of a tile. Its 16 numbers stand column by column: row r, column c at 4 c + r. */
export const TILE = 4;
export const TILE_NUMBERS = TILE * TILE;
const BYTES = 8;
const COLUMN_BYTES = TILE * BYTES;

/** Row i, column k of a board with `columns` tiles to a row. */
export const placeInTiles = (columns: number, i: number, k: number): number =>
  ((i >> 2) * columns + (k >> 2)) * TILE_NUMBERS + TILE * (k & 3) + (i & 3);

/** Tiles in the lower triangle of so many rows of tiles. */
export const triangleTiles = (rows: number): number => (rows * (rows + 1)) / 2;

/** Tiles that cover so many rows or columns. */
export const tilesOf = (count: number): number => Math.ceil(count / TILE);

/**
 * Where the numeric phase works: a block of L in rows of tiles (row i, column k at 16 (i >> 2) columns + 4 k + (i & 3), `columns` tiles to a row),
 * and the square of tiles that it passes to its parent.
 */
export interface TileBoard {
  readonly block: Float64Array;
  readonly update: Float64Array;
  /** Tile column t of a block: less what the tile columns before it take, for tile rows from t on. */
  takeColumns(t: number, columns: number, rows: number): void;
  /** Lower tiles of the update: less X X^T, X being the block's `size` tile rows below its triangle. */
  takeUpdate(columns: number, size: number): void;
}

/** A board for blocks and updates of up to so many numbers. */
export function tileBoard(blockNumbers: number, updateNumbers: number): TileBoard {
  const updateAt = BYTES * blockNumbers;
  const memory = laneMemory(updateAt + BYTES * updateNumbers);
  const strip = compiled(laneProgram(7, stripProgram), memory);
  const tile = BYTES * TILE_NUMBERS;
  return {
    block: new Float64Array(memory.buffer, 0, blockNumbers),
    update: new Float64Array(memory.buffer, updateAt, updateNumbers),
    takeColumns: (t, columns, rows) => {
      const top = t * columns * tile;
      strip(top, top, top + t * tile, TILE * t, rows - t, columns * tile, columns * tile);
    },
    takeUpdate: (columns, size) => {
      for (let j = 0; j < size; j++) {
        const x = (columns + j) * columns * tile;
        strip(x, x, updateAt + j * (size + 1) * tile, TILE * columns, size - j, columns * tile, size * tile);
      }
    },
  };
}

/**
 * C -= X Y^T for a column of tiles C: X has a tile row for each of them, Y one for all. Parameters: addresses of X, Y and C, columns of X and Y (a
 * multiple of 4), tiles, bytes from one row of X to the next, bytes from one tile of C to the next.
 */
function stripProgram(p: LaneProgram): void {
  const [x, y, c, columns, tiles, rowBytes, tileBytes] = [0, 1, 2, 3, 4, 5, 6].map((k) => p.param(k));
  // Two lanes hold two rows of a column; eight sums hold the tile.
  const sums = Array.from({ length: 2 * TILE }, () => p.sub(p.constant(0), p.constant(0)));
  p.repeat(tiles, [], () => {
    const [xk, yk, left] = [p.beyond(x, 0), p.beyond(y, 0), p.beyond(columns, 0)];
    for (const [k, sum] of sums.entries()) p.assign(sum, p.load(c, 2 * BYTES * k));
    p.repeat(
      left,
      [
        [xk, COLUMN_BYTES],
        [yk, COLUMN_BYTES],
      ],
      () => takeColumn(p, sums, xk, yk),
    );
    for (const [k, sum] of sums.entries()) p.store(c, 2 * BYTES * k, sum);
    p.move(x, rowBytes);
    p.move(c, tileBytes);
  });
}

/** The tile less one column of X times one of Y. */
function takeColumn(p: LaneProgram, sums: readonly Lanes[], x: Address, y: Address): void {
  const [upper, lower] = [p.load(x, 0), p.load(x, 2 * BYTES)];
  for (let j = 0; j < TILE; j++) {
    const factor = p.splat(y, BYTES * j);
    p.assign(sums[2 * j], p.sub(sums[2 * j], p.mul(upper, factor)));
    p.assign(sums[2 * j + 1], p.sub(sums[2 * j + 1], p.mul(lower, factor)));
  }
}
