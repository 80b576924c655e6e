import type { Icosahedron } from './icosahedron.ts';
import type { TilingSymmetry } from './tiling.ts';
import type { Triangulation } from './triangulation.ts';

/**
 * Orbits of nodes, edges and cells of the dual under the 60 rotations, found exactly from integer names: each orbit's representative is its lowest
 * index, and every node and cell remembers one rotation that carries its representative to it.
 */
export function orbits(solid: Icosahedron, geodesic: Triangulation, edges: Int32Array): TilingSymmetry {
  const { rotations } = solid;
  const nodeCount = geodesic.triangles.length / 3;
  const edgeOrbit = new Int32Array(edges.length / 2).fill(-1);
  const seedMaps = rotations.map(({ vertexImage }) => geodesic.seedImage(vertexImage));
  const maps = nodeImages(seedMaps, geodesic);
  const nodes = orbitsUnder(maps, nodeCount);
  const cells = orbitsUnder(seedMaps, geodesic.seedCount);
  const edgeName = (a: number, b: number) => (a < b ? a * nodeCount + b : b * nodeCount + a);
  const edgeIndex = new Map<number, number>();
  for (let e = 0; e < edgeOrbit.length; e++) edgeIndex.set(edgeName(edges[2 * e], edges[2 * e + 1]), e);
  for (let e = 0; e < edgeOrbit.length; e++) {
    if (edgeOrbit[e] >= 0) continue;
    for (const image of maps) edgeOrbit[edgeIndex.get(edgeName(image[edges[2 * e]], image[edges[2 * e + 1]]))!] = e;
  }
  const matrices = new Float64Array(9 * rotations.length);
  rotations.forEach((rotation, r) => matrices.set(rotation.matrix, 9 * r));
  return {
    rotations: matrices,
    nodeOrbit: nodes.orbit,
    nodeRotation: nodes.rotation,
    edgeOrbit,
    cellOrbit: cells.orbit,
    cellRotation: cells.rotation,
  };
}

/** The lowest index of each orbit, and for every index one of the maps that carries that lowest index to it. */
function orbitsUnder(maps: readonly Int32Array[], count: number): { orbit: Int32Array; rotation: Int32Array } {
  const orbit = new Int32Array(count).fill(-1);
  const rotation = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    if (orbit[k] >= 0) continue;
    maps.forEach((image, r) => {
      if (orbit[image[k]] >= 0) return;
      orbit[image[k]] = k;
      rotation[image[k]] = r;
    });
  }
  return { orbit, rotation };
}

/** Where each rotation sends each node, by the images of the three seeds around it. */
function nodeImages(seedMaps: readonly Int32Array[], { triangles, seedCount }: Triangulation): Int32Array[] {
  const name = (a: number, b: number, c: number) => {
    const low = Math.min(a, b, c);
    const high = Math.max(a, b, c);
    return (low * seedCount + (a + b + c - low - high)) * seedCount + high;
  };
  const index = new Map<number, number>();
  for (let t = 0; t < triangles.length; t += 3) index.set(name(triangles[t], triangles[t + 1], triangles[t + 2]), t / 3);
  return seedMaps.map((seedImage) =>
    Int32Array.from({ length: triangles.length / 3 }, (_, t) => {
      return index.get(name(seedImage[triangles[3 * t]], seedImage[triangles[3 * t + 1]], seedImage[triangles[3 * t + 2]]))!;
    }),
  );
}
