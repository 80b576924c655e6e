export type Direction = readonly [number, number, number];

/** Rotation matrix (row-major) that carries the unit vector `down` to -z by the shortest way (Rodrigues); a half turn about x when it points up. */
export function turnDown([x, y, z]: Direction): Float64Array {
  if (z > 1 - 1e-12) return Float64Array.of(1, 0, 0, 0, -1, 0, 0, 0, -1);
  const k = 1 / (1 - z);
  return Float64Array.of(1 - k * x * x, -k * x * y, x, -k * x * y, 1 - k * y * y, y, -x, -y, -z);
}

/** Unit quaternion w x y z of a rotation matrix (Shepperd 1978: by the largest of its four). */
export function quaternionOf(R: ArrayLike<number>): [number, number, number, number] {
  const trace = R[0] + R[4] + R[8];
  const squares = [1 + trace, 1 + 2 * R[0] - trace, 1 + 2 * R[4] - trace, 1 + 2 * R[8] - trace];
  const largest = squares.indexOf(Math.max(...squares));
  const s = 2 * Math.sqrt(squares[largest]);
  const [wx, wy, wz] = [R[7] - R[5], R[2] - R[6], R[3] - R[1]];
  const [xy, xz, yz] = [R[1] + R[3], R[2] + R[6], R[5] + R[7]];
  const parts: [number, number, number, number][] = [
    [squares[0], wx, wy, wz],
    [wx, squares[1], xy, xz],
    [wy, xy, squares[2], yz],
    [wz, xz, yz, squares[3]],
  ];
  const [w, x, y, z] = parts[largest];
  return [w / s, x / s, y / s, z / s].map((each, k) => (k === largest ? s / 4 : each)) as [number, number, number, number];
}
