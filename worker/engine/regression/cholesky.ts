/** Dense symmetric positive definite matrices, n rows one after the other. */

/** A = L L^T in place: the lower triangle of `a` becomes L, the rest is not looked at. false: not positive definite, `a` is spoilt. */
export function factorise(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) a[i * n + j] = (a[i * n + j] - dot(a, a, { i: i * n, j: j * n, count: j })) / a[j * n + j];
    const pivot = a[i * n + i] - dot(a, a, { i: i * n, j: i * n, count: i });
    if (!(pivot > 0)) return false;
    a[i * n + i] = Math.sqrt(pivot);
  }
  return true;
}

/** Two stretches of numbers, from these places on. */
interface Stretches {
  readonly i: number;
  readonly j: number;
  readonly count: number;
}

/** Sum of a[i + k] b[j + k], in four sums that do not wait for each other. */
function dot(a: Float64Array, b: Float64Array, { i, j, count }: Stretches): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  for (; k + 3 < count; k += 4) {
    s0 += a[i + k] * b[j + k];
    s1 += a[i + k + 1] * b[j + k + 1];
    s2 += a[i + k + 2] * b[j + k + 2];
    s3 += a[i + k + 3] * b[j + k + 3];
  }
  for (; k < count; k++) s0 += a[i + k] * b[j + k];
  return s0 + s1 + (s2 + s3);
}

/** x of L x = b. */
export function forward(l: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) x[i] = (b[i] - dot(l, x, { i: i * n, j: 0, count: i })) / l[i * n + i];
  return x;
}

/** x of L^T x = b. */
export function backward(l: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = Float64Array.from(b);
  for (let i = n - 1; i >= 0; i--) {
    x[i] /= l[i * n + i];
    for (let k = 0; k < i; k++) x[k] -= l[i * n + k] * x[i];
  }
  return x;
}

/** Lower triangle of (L L^T)^-1. */
export function inverse(l: Float64Array, n: number): Float64Array {
  // row j of `columns` is column j of L^-1, so that both products below run along rows
  const columns = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    columns[j * n + j] = 1 / l[j * n + j];
    for (let i = j + 1; i < n; i++) columns[j * n + i] = -dot(l, columns, { i: i * n + j, j: j * n + j, count: i - j }) / l[i * n + i];
  }
  const found = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) found[i * n + j] = dot(columns, columns, { i: i * n + i, j: j * n + i, count: n - i });
  return found;
}
