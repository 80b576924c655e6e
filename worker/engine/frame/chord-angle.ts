/** Below this 1 - cos the closed forms lose digits and the series has fewer than SERIES_TERMS to sum. */
const SMALL = 0.02;
const SERIES_TERMS = 8;

/**
 * f = a / sin(a) for the angle a whose cosine is c and whose sine is the length of (s2, s3), with f's first and second derivative by c into `out`.
 * (1 - c^2) f' = c f - 1 and (1 - c^2) f'' = f + 3 c f'; near a = 0, with v = 1 - c, f = sum a_n v^n, a_0 = 1, a_(n+1) = a_n (n + 1) / (2 n + 3).
 */
export function chordAngle(c: number, s2: number, s3: number, out: { f: number; slope: number; bend: number }): void {
  const z = s2 * s2 + s3 * s3;
  const v = c > 0 ? z / (1 + c) : 1 - c;
  if (v < SMALL) {
    series(v, out);
    return;
  }
  const sine = Math.sqrt(z);
  out.f = Math.atan2(sine, c) / sine;
  out.slope = (c * out.f - 1) / z;
  out.bend = (out.f + 3 * c * out.slope) / z;
}

function series(v: number, out: { f: number; slope: number; bend: number }): void {
  let [f, slope, bend] = [0, 0, 0];
  let [coefficient, power] = [1, 1];
  for (let n = 0; n < SERIES_TERMS; n++) {
    const next = (coefficient * (n + 1)) / (2 * n + 3);
    const second = (next * (n + 2)) / (2 * n + 5);
    f += coefficient * power;
    slope -= (n + 1) * next * power;
    bend += (n + 2) * (n + 1) * second * power;
    [coefficient, power] = [next, power * v];
  }
  out.f = f;
  out.slope = slope;
  out.bend = bend;
}
