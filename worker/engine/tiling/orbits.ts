import type { IcosahedralRotation, Icosahedron } from './icosahedron.ts';
import type { TilingSymmetry } from './tiling.ts';
import type { Triangulation } from './triangulation.ts';

/**
 * Orbits of nodes and edges of the dual under the 60 rotations, found exactly from integer names: each orbit's representative is its lowest
 * index, and every node remembers one rotation that carries its representative to it.
 */
export function orbits(solid: Icosahedron, geodesic: Triangulation, edges: Int32Array): TilingSymmetry {
  const { rotations } = solid;
  const nodeCount = geodesic.triangles.length / 3;
  const nodeOrbit = new Int32Array(nodeCount).fill(-1);
  const nodeRotation = new Int32Array(nodeCount);
  const edgeOrbit = new Int32Array(edges.length / 2).fill(-1);
  const maps = rotations.map((rotation) => nodeImages(rotation, geodesic));
  for (let node = 0; node < nodeCount; node++) {
    if (nodeOrbit[node] >= 0) continue;
    maps.forEach((image, r) => {
      if (nodeOrbit[image[node]] >= 0) return;
      nodeOrbit[image[node]] = node;
      nodeRotation[image[node]] = r;
    });
  }
  const edgeName = (a: number, b: number) => (a < b ? a * nodeCount + b : b * nodeCount + a);
  const edgeIndex = new Map<number, number>();
  for (let e = 0; e < edgeOrbit.length; e++) edgeIndex.set(edgeName(edges[2 * e], edges[2 * e + 1]), e);
  for (let e = 0; e < edgeOrbit.length; e++) {
    if (edgeOrbit[e] >= 0) continue;
    for (const image of maps) edgeOrbit[edgeIndex.get(edgeName(image[edges[2 * e]], image[edges[2 * e + 1]]))!] = e;
  }
  const matrices = new Float64Array(9 * rotations.length);
  rotations.forEach((rotation, r) => matrices.set(rotation.matrix, 9 * r));
  return { rotations: matrices, nodeOrbit, nodeRotation, edgeOrbit };
}

/** Where one rotation sends each node, by the images of the three seeds around it. */
function nodeImages(rotation: IcosahedralRotation, geodesic: Triangulation): Int32Array {
  const { triangles, seedCount } = geodesic;
  const seedImage = geodesic.seedImage(rotation.vertexImage);
  const name = (a: number, b: number, c: number) => {
    const low = Math.min(a, b, c);
    const high = Math.max(a, b, c);
    return (low * seedCount + (a + b + c - low - high)) * seedCount + high;
  };
  const index = new Map<number, number>();
  for (let t = 0; t < triangles.length; t += 3) index.set(name(triangles[t], triangles[t + 1], triangles[t + 2]), t / 3);
  return Int32Array.from({ length: triangles.length / 3 }, (_, t) => {
    const [a, b, c] = [0, 1, 2].map((k) => seedImage[triangles[3 * t + k]]);
    return index.get(name(a, b, c))!;
  });
}
