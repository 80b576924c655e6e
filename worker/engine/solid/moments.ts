/**
 * Moments of a solid about the origin, or one body's share of them: volume, first moments x y z, second moments xx yy zz xy xz yz
 * (integrals over the solid of 1, x_k and x_k x_l). Lengths in mm.
 */
export type Moments = Float64Array;
export const MOMENTS = 10;
export const makeMoments = (): Moments => new Float64Array(MOMENTS);

/** out += factor * moments. */
export function addMoments(out: Moments, moments: Moments, factor: number): void {
  for (let k = 0; k < MOMENTS; k++) out[k] += factor * moments[k];
}

/** Second-moment tensor as three rows. */
export const secondMoments = (m: Moments): [number, number, number][] => [
  [m[4], m[7], m[8]],
  [m[7], m[5], m[9]],
  [m[8], m[9], m[6]],
];

/** out += factor * (moments of the same body after the rotation `g`, row-major at offset `at`). */
export function addRotated(out: Moments, moments: Moments, g: Float64Array, at: number, factor: number): void {
  out[0] += factor * moments[0];
  const second = secondMoments(moments);
  const turned = [0, 1, 2].map((i) =>
    [0, 1, 2].map((k) => g[at + 3 * i] * second[0][k] + g[at + 3 * i + 1] * second[1][k] + g[at + 3 * i + 2] * second[2][k]),
  );
  const entry = (i: number, j: number) =>
    turned[i][0] * g[at + 3 * j] + turned[i][1] * g[at + 3 * j + 1] + turned[i][2] * g[at + 3 * j + 2];
  for (let i = 0; i < 3; i++) {
    out[1 + i] += factor * (g[at + 3 * i] * moments[1] + g[at + 3 * i + 1] * moments[2] + g[at + 3 * i + 2] * moments[3]);
    out[4 + i] += factor * entry(i, i);
  }
  out[7] += factor * entry(0, 1);
  out[8] += factor * entry(0, 2);
  out[9] += factor * entry(1, 2);
}
