import { TILE, TILE_NUMBERS, type TileBoard } from './tiles.ts';

/**
 * Partial Cholesky of the block on a board, [A11; A21] -> [L11; A21 L11^-T], in `rows` x `columns` tiles, tile column by tile column. Diagonal
 * entries become their inverses, so that rows are multiplied later, not divided. Answers -1, or the first column without a positive pivot, whose
 * value is then left on the diagonal. `poll` is called for every tile column, and may throw.
 */
export function factorBlock(board: TileBoard, columns: number, rows: number, poll: () => void): number {
  const { block } = board;
  for (let t = 0; t < columns; t++) {
    poll();
    if (t > 0) board.takeColumns(t, columns, rows);
    const top = (t * columns + t) * TILE_NUMBERS;
    const stopped = factorTile(block, top);
    if (stopped >= 0) return TILE * t + stopped;
    for (let g = t + 1; g < rows; g++) solveTile(block, top, (g * columns + t) * TILE_NUMBERS);
  }
  return -1;
}

/** Cholesky factor of the lower triangle of one tile, diagonal inverted; answers -1 or the column that stops it. */
function factorTile(a: Float64Array, at: number): number {
  for (let j = 0; j < TILE; j++) {
    const pivot = a[at + TILE * j + j];
    if (!(pivot > 0) || pivot === Number.POSITIVE_INFINITY) return j;
    const inverse = 1 / Math.sqrt(pivot);
    a[at + TILE * j + j] = inverse;
    for (let i = j + 1; i < TILE; i++) a[at + TILE * j + i] *= inverse;
    for (let k = j + 1; k < TILE; k++) for (let i = k; i < TILE; i++) a[at + TILE * k + i] -= a[at + TILE * j + i] * a[at + TILE * j + k];
  }
  return -1;
}

/** X := X L^-T of one tile at `x`, with the factor of the tile at `l`. */
function solveTile(a: Float64Array, l: number, x: number): void {
  const [i0, i1, i2, i3] = [a[l], a[l + 5], a[l + 10], a[l + 15]];
  const [l10, l20, l30, l21, l31, l32] = [a[l + 1], a[l + 2], a[l + 3], a[l + 6], a[l + 7], a[l + 11]];
  for (let r = x; r < x + TILE; r++) {
    const x0 = a[r] * i0;
    const x1 = (a[r + 4] - x0 * l10) * i1;
    const x2 = (a[r + 8] - x0 * l20 - x1 * l21) * i2;
    a[r] = x0;
    a[r + 4] = x1;
    a[r + 8] = x2;
    a[r + 12] = (a[r + 12] - x0 * l30 - x1 * l31 - x2 * l32) * i3;
  }
}
