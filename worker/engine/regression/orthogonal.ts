/** Columns made orthogonal one after the other: column k = sum over j <= k of r[k][j] q_j. Columns that depend on those before are left out. */
export interface Orthogonal {
  /** Places of the columns that are kept. */
  readonly kept: readonly number[];
  /** Unit vectors, one for each that is kept. */
  readonly q: readonly Float64Array[];
  readonly r: readonly Float64Array[];
}

/** A column of which less than this share is new depends on the others. */
const NEW_SHARE = 1e-8;

/** Gram and Schmidt's process, each column twice, which leaves them orthogonal to rounding (Giraud et al. 2005). */
export function orthogonal(columns: readonly Float64Array[]): Orthogonal {
  const kept: number[] = [];
  const q: Float64Array[] = [];
  const r: Float64Array[] = [];
  for (const [place, column] of columns.entries()) {
    const left = column.slice();
    const row = new Float64Array(q.length + 1);
    for (let round = 0; round < 2; round++)
      for (const [j, each] of q.entries()) {
        const share = product(each, left);
        row[j] += share;
        for (let i = 0; i < left.length; i++) left[i] -= share * each[i];
      }
    const length = Math.sqrt(product(left, left));
    if (!(length > NEW_SHARE * Math.sqrt(product(column, column)))) continue;
    row[q.length] = length;
    kept.push(place);
    r.push(row);
    q.push(left.map((each) => each / length));
  }
  return { kept, q, r };
}

/** w of r w = values (those of the kept columns at a point), so that sum w_j (q_j . y) is the least squares prediction there and |w|^2 its leverage. */
export function weights({ kept, r }: Orthogonal, values: ArrayLike<number>): Float64Array {
  const w = new Float64Array(kept.length);
  for (const [k, place] of kept.entries()) {
    let sum = values[place];
    for (let j = 0; j < k; j++) sum -= r[k][j] * w[j];
    w[k] = sum / r[k][k];
  }
  return w;
}

export const product = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
};
