import type { SparseMatrix } from './matrix.ts';

const ROOT = -1;

/** For every row k of the permuted matrix, the columns left of the diagonal where it has entries: ptr (n + 1), idx. */
export interface RowPattern {
  readonly ptr: Int32Array;
  readonly idx: Int32Array;
}

/** Pattern of the strictly lower rows of P A P^T, where `inverse[j]` is the new place of unknown j. */
export function permutedRows({ n, colPtr, rowIdx }: SparseMatrix, inverse: Int32Array): RowPattern {
  const ptr = new Int32Array(n + 1);
  for (let j = 0; j < n; j++)
    for (let p = colPtr[j]; p < colPtr[j + 1]; p++) if (rowIdx[p] !== j) ptr[Math.max(inverse[j], inverse[rowIdx[p]]) + 1]++;
  for (let k = 0; k < n; k++) ptr[k + 1] += ptr[k];
  const idx = new Int32Array(ptr[n]);
  const next = ptr.slice(0, n);
  for (let j = 0; j < n; j++) {
    for (let p = colPtr[j]; p < colPtr[j + 1]; p++) {
      if (rowIdx[p] === j) continue;
      const [a, b] = [inverse[j], inverse[rowIdx[p]]];
      idx[next[Math.max(a, b)]++] = Math.min(a, b);
    }
  }
  return { ptr, idx };
}

/** Parent of every column in the elimination tree, ROOT (-1) at the top: the first row below the diagonal of its column of L (Liu 1990, 4.2). */
export function eliminationTree({ ptr, idx }: RowPattern): Int32Array {
  const n = ptr.length - 1;
  const parent = new Int32Array(n).fill(ROOT);
  const ancestor = new Int32Array(n).fill(ROOT);
  for (let k = 0; k < n; k++) {
    for (let p = ptr[k]; p < ptr[k + 1]; p++) {
      for (let i = idx[p]; i !== ROOT && i < k; ) {
        const next = ancestor[i];
        ancestor[i] = k;
        if (next === ROOT) parent[i] = k;
        i = next;
      }
    }
  }
  return parent;
}

/** Columns in postorder: every column after its children, the columns of each subtree in one run. */
export function postorder(parent: Int32Array): Int32Array {
  const n = parent.length;
  const firstChild = new Int32Array(n).fill(ROOT);
  const sibling = new Int32Array(n).fill(ROOT);
  const roots: number[] = [];
  for (let j = n - 1; j >= 0; j--) {
    if (parent[j] === ROOT) {
      roots.push(j);
      continue;
    }
    sibling[j] = firstChild[parent[j]];
    firstChild[parent[j]] = j;
  }
  const sequence = new Int32Array(n);
  const stack = roots;
  let count = 0;
  while (stack.length > 0) {
    const top = stack[stack.length - 1];
    const child = firstChild[top];
    if (child === ROOT) {
      sequence[count++] = top;
      stack.pop();
    } else {
      firstChild[top] = sibling[child];
      stack.push(child);
    }
  }
  return sequence;
}

/** Entries in every column of L, diagonal included: row k's entries are the paths in the tree from its columns up to k. */
export function columnCounts({ ptr, idx }: RowPattern, parent: Int32Array): Int32Array {
  const n = parent.length;
  const count = new Int32Array(n).fill(1);
  const mark = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    mark[k] = k;
    for (let p = ptr[k]; p < ptr[k + 1]; p++) {
      for (let i = idx[p]; mark[i] !== k; i = parent[i]) {
        count[i]++;
        mark[i] = k;
      }
    }
  }
  return count;
}
