import type { SurfaceMesh } from '../mesh/index.ts';

const HEADER = 80;
const FACET = 50;

/**
 * A binary STL: 80 bytes that do not begin with "solid", the number of facets, then for each its normal and three corners as floats of 32 bits, and two
 * zero bytes; little endian. STL knows no units: these are millimetres.
 */
export function binaryStl({ xyz, triangles }: SurfaceMesh, title: string): Uint8Array {
  const count = triangles.length / 3;
  const bytes = new Uint8Array(HEADER + 4 + FACET * count);
  for (const [k, letter] of [...`binary STL, mm: ${title}`].slice(0, HEADER).entries()) bytes[k] = letter.charCodeAt(0) & 127;
  const view = new DataView(bytes.buffer);
  view.setUint32(HEADER, count, true);
  for (let t = 0; t < count; t++) {
    const at = HEADER + 4 + FACET * t;
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const [px, py, pz] = [xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]];
    const [qx, qy, qz] = [xyz[c] - xyz[a], xyz[c + 1] - xyz[a + 1], xyz[c + 2] - xyz[a + 2]];
    const normal = [py * qz - pz * qy, pz * qx - px * qz, px * qy - py * qx];
    const length = Math.hypot(normal[0], normal[1], normal[2]) || 1;
    for (let k = 0; k < 3; k++) {
      view.setFloat32(at + 4 * k, normal[k] / length, true);
      view.setFloat32(at + 12 + 4 * k, xyz[a + k], true);
      view.setFloat32(at + 24 + 4 * k, xyz[b + k], true);
      view.setFloat32(at + 36 + 4 * k, xyz[c + k], true);
    }
  }
  return bytes;
}
