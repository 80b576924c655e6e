/** Rounds of the power iteration; each shrinks the error by (smallest / middle) spread of the ring, about 1e-3 for a cell of a tiling. */
const ROUNDS = 24;

/**
 * Unit normal of the plane that fits the ring's points best (least squares of the distances), on the side from which the ring runs
 * counter-clockwise. Power iteration on the adjugate of the points' covariance, whose largest eigenvector is the covariance's smallest;
 * for a flat ring the first round is exact. points: 3 per node; they must not lie on one line (the answer is then some normal of it).
 */
export function bestPlaneNormal(points: Float64Array): [number, number, number] {
  const area = areaVector(points);
  const [xx, xy, xz, yy, yz, zz] = covariance(points);
  const [a, b, c] = [yy * zz - yz * yz, xz * yz - xy * zz, xy * yz - xz * yy];
  const [d, e, f] = [xx * zz - xz * xz, xy * xz - xx * yz, xx * yy - xy * xy];
  let [x, y, z] = unit(area);
  for (let round = 0; round < ROUNDS; round++) {
    [x, y, z] = unit([a * x + b * y + c * z, b * x + d * y + e * z, c * x + e * y + f * z]);
  }
  return x * area[0] + y * area[1] + z * area[2] < 0 ? [-x, -y, -z] : [x, y, z];
}

/** Twice the vector area of the ring (Newell): it points to the side from which the ring runs counter-clockwise. */
function areaVector(points: Float64Array): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  const n = points.length / 3;
  for (let i = 0; i < n; i++) {
    const [p, q] = [3 * i, 3 * ((i + 1) % n)];
    sum[0] += (points[p + 1] - points[q + 1]) * (points[p + 2] + points[q + 2]);
    sum[1] += (points[p + 2] - points[q + 2]) * (points[p] + points[q]);
    sum[2] += (points[p] - points[q]) * (points[p + 1] + points[q + 1]);
  }
  return sum;
}

function covariance(points: Float64Array): [number, number, number, number, number, number] {
  const n = points.length / 3;
  const mean = [0, 0, 0];
  for (let i = 0; i < points.length; i++) mean[i % 3] += points[i] / n;
  const c: [number, number, number, number, number, number] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < points.length; i += 3) {
    const [x, y, z] = [points[i] - mean[0], points[i + 1] - mean[1], points[i + 2] - mean[2]];
    c[0] += x * x;
    c[1] += x * y;
    c[2] += x * z;
    c[3] += y * y;
    c[4] += y * z;
    c[5] += z * z;
  }
  return c;
}

function unit([x, y, z]: [number, number, number]): [number, number, number] {
  const length = Math.hypot(x, y, z);
  return length > 0 ? [x / length, y / length, z / length] : [0, 0, 1];
}
