import { type CholeskyFactor, solve } from '../sparse/index.ts';

/** A factor M of an earlier, shifted tangent, restricted to moves that keep the linear conditions A x = 0. */
export interface Guide {
  readonly factor: CholeskyFactor;
  readonly shift: number;
  /** Least entry of the tangent's diagonal over its weight. */
  readonly scale: number;
  /** The shift is more than rigid motions need: the tangent was not positive definite. */
  readonly shifted: boolean;
  /** Rows of A, the columns M^-1 A', and the inverse of A M^-1 A', row-major. */
  readonly rows: readonly Float64Array[];
  readonly columns: readonly Float64Array[];
  readonly inverse: Float64Array;
  /** Newton steps taken with it. */
  age: number;
}

/** The guide of a factor and the rows of A (independent of each other). */
export function guideOf({
  factor,
  shift,
  scale,
  shifted,
  guides,
  n,
}: Pick<Guide, 'factor' | 'shift' | 'scale' | 'shifted'> & { readonly guides: readonly Float64Array[]; readonly n: number }): Guide {
  const columns = guides.map((row) => {
    const column = new Float64Array(n);
    solve(factor, row, column);
    return column;
  });
  const m = guides.length;
  const inverse = new Float64Array(m * m);
  guides.forEach((row, i) => columns.forEach((column, j) => (inverse[m * i + j] = product(row, column))));
  invert(inverse, m);
  return { factor, shift, scale, shifted, rows: guides, columns, inverse, age: 0 };
}

/** x = M^-1 b less what breaks A x = 0: M^-1 (b - A' mu). */
export function guided({ factor, rows, columns, inverse }: Guide, b: Float64Array, x: Float64Array): void {
  solve(factor, b, x);
  const m = rows.length;
  const off = rows.map((row) => product(row, x));
  for (let i = 0; i < m; i++) {
    let share = 0;
    for (let j = 0; j < m; j++) share += inverse[m * i + j] * off[j];
    const column = columns[i];
    for (let k = 0; k < x.length; k++) x[k] -= share * column[k];
  }
}

/** Inverse of a small symmetric positive definite matrix in place (Gauss-Jordan without pivots). */
function invert(A: Float64Array, m: number): void {
  for (let k = 0; k < m; k++) {
    const pivot = 1 / A[m * k + k];
    A[m * k + k] = 1;
    for (let j = 0; j < m; j++) A[m * k + j] *= pivot;
    for (let i = 0; i < m; i++) {
      if (i === k) continue;
      const factor = A[m * i + k];
      A[m * i + k] = 0;
      for (let j = 0; j < m; j++) A[m * i + j] -= factor * A[m * k + j];
    }
  }
}

function product(x: Float64Array, y: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < x.length; k++) sum += x[k] * y[k];
  return sum;
}
