/** Dense symmetric positive definite matrices, n rows one after the other. */

/** A = L L^T in place: the lower triangle of `a` becomes L, the rest is not looked at. false: not positive definite, `a` is spoilt. */
export function factorise(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) a[i * n + j] = (a[i * n + j] - dot(a, { i: i * n, j: j * n, count: j })) / a[j * n + j];
    const pivot = a[i * n + i] - dot(a, { i: i * n, j: i * n, count: i });
    if (!(pivot > 0)) return false;
    a[i * n + i] = Math.sqrt(pivot);
  }
  return true;
}

/** Product of two stretches of one list. */
function dot(a: Float64Array, { i, j, count }: { i: number; j: number; count: number }): number {
  let [even, odd, k] = [0, 0, 0];
  for (; k + 1 < count; k += 2) {
    even += a[i + k] * a[j + k];
    odd += a[i + k + 1] * a[j + k + 1];
  }
  return k < count ? even + odd + a[i + k] * a[j + k] : even + odd;
}

/** x of L x = b. */
export function forward(l: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= l[i * n + k] * x[k];
    x[i] = sum / l[i * n + i];
  }
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
    for (let i = j + 1; i < n; i++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= l[i * n + k] * columns[j * n + k];
      columns[j * n + i] = sum / l[i * n + i];
    }
  }
  const found = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) found[i * n + j] = dot(columns, { i: i * n + i, j: j * n + i, count: n - i });
  return found;
}
