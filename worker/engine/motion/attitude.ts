/** Unit quaternion w x y z: turns the part's axes into those of space. */
export type Quaternion = Float64Array;

/** Turns by the rotation vector (rx, ry, rz) of space, exactly: q <- (cos(a/2), r/a sin(a/2)) q, a = |r|; then makes it unit again. */
export function turnBy(q: Quaternion, rx: number, ry: number, rz: number): void {
  const angle = Math.sqrt(rx * rx + ry * ry + rz * rz);
  const half = angle / 2;
  // sin(a/2)/a, with its series where a is tiny.
  const part = angle > 1e-4 ? Math.sin(half) / angle : 0.5 - (angle * angle) / 48;
  const c = Math.cos(half);
  const x = rx * part;
  const y = ry * part;
  const z = rz * part;
  const w = q[0];
  const i = q[1];
  const j = q[2];
  const k = q[3];
  const w1 = c * w - x * i - y * j - z * k;
  const i1 = c * i + x * w + y * k - z * j;
  const j1 = c * j - x * k + y * w + z * i;
  const k1 = c * k + x * j - y * i + z * w;
  const unit = 1 / Math.sqrt(w1 * w1 + i1 * i1 + j1 * j1 + k1 * k1);
  q[0] = w1 * unit;
  q[1] = i1 * unit;
  q[2] = j1 * unit;
  q[3] = k1 * unit;
}

/** Rotation matrix of a unit quaternion, row-major, into `out`. */
export function matrixOf(q: Quaternion, out: Float64Array): void {
  const w = q[0];
  const x = q[1];
  const y = q[2];
  const z = q[3];
  out[0] = 1 - 2 * (y * y + z * z);
  out[1] = 2 * (x * y - w * z);
  out[2] = 2 * (x * z + w * y);
  out[3] = 2 * (x * y + w * z);
  out[4] = 1 - 2 * (x * x + z * z);
  out[5] = 2 * (y * z - w * x);
  out[6] = 2 * (x * z - w * y);
  out[7] = 2 * (y * z + w * x);
  out[8] = 1 - 2 * (x * x + y * y);
}
