/** Cell corners: the centroid of the three seeds around each node, carried radially to the unit sphere. `nodeCells`: 3 per node. */
export function cornersOf(seeds: Float64Array, nodeCells: Int32Array): Float64Array {
  const xyz = new Float64Array(nodeCells.length);
  for (let t = 0; t < nodeCells.length; t += 3) {
    const [a, b, c] = [3 * nodeCells[t], 3 * nodeCells[t + 1], 3 * nodeCells[t + 2]];
    const sum = [0, 1, 2].map((k) => seeds[a + k] + seeds[b + k] + seeds[c + k]);
    const length = Math.hypot(sum[0], sum[1], sum[2]);
    for (let k = 0; k < 3; k++) xyz[t + k] = sum[k] / length;
  }
  return xyz;
}
