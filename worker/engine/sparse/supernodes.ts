/** Runs of columns of L with (nearly) the same rows, each stored as one dense block. */
export interface Supernodes {
  readonly count: number;
  /** First column of each, count + 1. */
  readonly firstColumn: Int32Array;
  /** Rows of each, its own columns among them. */
  readonly rowCount: Int32Array;
  /** Supernode of each column, n. */
  readonly of: Int32Array;
}

/** Largest share of zeros that a merged block may hold, by its width: wide blocks are worth some zeros, as dense work is fast (Ashcraft, Grimes 1989). */
const ZEROS_ALLOWED: readonly { readonly width: number; readonly share: number }[] = [
  { width: 6, share: 1 },
  { width: 24, share: 0.5 },
  { width: 48, share: 0.15 },
  { width: Number.POSITIVE_INFINITY, share: 0.05 },
];

/**
 * Supernodes of a postordered tree: a column joins the one before it when their rows are the same, and whole blocks are merged with the block
 * after them while that adds few zeros.
 */
export function supernodes(parent: Int32Array, count: Int32Array): Supernodes {
  const n = parent.length;
  // A stack of blocks; the top one may swallow the block below it when that is its child.
  const first: number[] = [];
  const rows: number[] = [];
  const zeros: number[] = [];
  for (let j = 0; j < n; j++) {
    const same = j > 0 && parent[j - 1] === j && count[j - 1] === count[j] + 1;
    if (!same) {
      if (j > 0) mergeDown(parent, first, rows, zeros, j);
      first.push(j);
      rows.push(count[j]);
      zeros.push(0);
    }
  }
  mergeDown(parent, first, rows, zeros, n);
  const firstColumn = Int32Array.from([...first, n]);
  const of = new Int32Array(n);
  for (let s = 0; s < first.length; s++) of.fill(s, firstColumn[s], firstColumn[s + 1]);
  return { count: first.length, firstColumn, rowCount: Int32Array.from(rows), of };
}

/** Merges the top block, which ends before column `end`, with the blocks under it as long as they are its children and few zeros result. */
function mergeDown(parent: Int32Array, first: number[], rows: number[], zeros: number[], end: number): void {
  while (first.length > 1) {
    const [below, top] = [first.length - 2, first.length - 1];
    if (parent[first[top] - 1] < first[top] || parent[first[top] - 1] >= end) return;
    const [w, v] = [first[top] - first[below], end - first[top]];
    const merged = entries(w + v, w + rows[top]);
    const empty = zeros[below] + zeros[top] + merged - entries(w, rows[below]) - entries(v, rows[top]);
    const limit = ZEROS_ALLOWED.find(({ width }) => w + v <= width);
    if (!limit || empty > limit.share * merged) return;
    rows[below] = w + rows[top];
    zeros[below] = empty;
    for (const list of [first, rows, zeros]) list.length = top;
  }
}

/** Entries of a block of `width` columns and `rows` rows whose top is a triangle. */
const entries = (width: number, rows: number): number => width * rows - (width * (width - 1)) / 2;
