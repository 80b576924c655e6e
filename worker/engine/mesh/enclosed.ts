/** What a closed mesh encloses (mm3), by the tetrahedra between its triangles and the origin, and its area (mm2). */
export function enclosed({ xyz, triangles }: { readonly xyz: Float64Array; readonly triangles: Uint32Array }): {
  volume: number;
  area: number;
} {
  let [six, twice] = [0, 0];
  for (let k = 0; k < triangles.length; k += 3) {
    const [a, b, c] = [3 * triangles[k], 3 * triangles[k + 1], 3 * triangles[k + 2]];
    const [px, py, pz] = [xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]];
    const [qx, qy, qz] = [xyz[c] - xyz[a], xyz[c + 1] - xyz[a + 1], xyz[c + 2] - xyz[a + 2]];
    const [nx, ny, nz] = [py * qz - pz * qy, pz * qx - px * qz, px * qy - py * qx];
    six += nx * xyz[a] + ny * xyz[a + 1] + nz * xyz[a + 2];
    twice += Math.hypot(nx, ny, nz);
  }
  return { volume: six / 6, area: twice / 2 };
}
