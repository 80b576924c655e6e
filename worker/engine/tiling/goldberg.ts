import { cornersOf } from './corners.ts';
import { icosahedron } from './icosahedron.ts';
import { orbits } from './orbits.ts';
import type { Tiling } from './tiling.ts';
import { type Triangulation, triangulate } from './triangulation.ts';

/**
 * Goldberg polyhedron GP(m,n) on the unit sphere: the dual of the geodesic subdivision. Cell corners are the centroids of the three radially
 * projected seeds of each small triangle, themselves projected. 20T nodes, 30T edges, 10T + 2 cells of which 12 are pentagons (Goldberg 1937).
 * m, n >= 0, T = m^2 + mn + n^2 >= 1; n > m is the mirror twin.
 */
export function goldberg(m: number, n: number): Tiling {
  const solid = icosahedron();
  const geodesic = triangulate(solid, m, n);
  const { edges, neighbours } = dualEdges(geodesic);
  const rings = dualCells(geodesic, neighbours);
  const nodeCount = geodesic.triangles.length / 3;
  return {
    T: geodesic.T,
    nodeCount,
    edgeCount: edges.length / 2,
    cellCount: geodesic.seedCount,
    xyz: cornersOf(geodesic.seeds, geodesic.triangles),
    edges,
    ...rings,
    nodeCells: geodesic.triangles,
    cellDirection: geodesic.seeds,
    symmetry: orbits(solid, geodesic, edges),
    relaxationResidual: 0,
  };
}

/** What lies on one side of a directed edge a -> b between two seeds: the small triangle on its left, and the dual edge that crosses it. */
export type Neighbours = Map<number, { triangle: number; edge: number }>;

/** Key of the directed edge between two seeds. */
export const directed = (from: number, to: number, seedCount: number): number => from * seedCount + to;

/** Triangles that share a side are joined by a dual edge. */
function dualEdges({ triangles, seedCount }: Triangulation): { edges: Int32Array; neighbours: Neighbours } {
  const neighbours: Neighbours = new Map();
  const edges: number[] = [];
  for (let t = 0; t < triangles.length / 3; t++) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[3 * t + k], triangles[3 * t + ((k + 1) % 3)]];
      const other = neighbours.get(directed(b, a, seedCount));
      const edge = other ? edges.length / 2 : -1;
      neighbours.set(directed(a, b, seedCount), { triangle: t, edge });
      if (!other) continue;
      other.edge = edge;
      edges.push(other.triangle, t);
    }
  }
  return { edges: Int32Array.from(edges), neighbours };
}

/** Walks round each seed, from triangle to triangle, counter-clockwise. */
function dualCells({ triangles, seedCount }: Triangulation, neighbours: Neighbours) {
  const first = new Int32Array(seedCount).fill(-1);
  triangles.forEach((seed, k) => {
    first[seed] = Math.floor(k / 3);
  });
  const cellPtr = new Int32Array(seedCount + 1);
  const cellNodes: number[] = [];
  const cellEdges: number[] = [];
  for (let seed = 0; seed < seedCount; seed++) {
    let triangle = first[seed];
    do {
      const at = [0, 1, 2].find((k) => triangles[3 * triangle + k] === seed)!;
      const last = triangles[3 * triangle + ((at + 2) % 3)];
      // The triangle (seed, b, last) is followed, counter-clockwise, by the one on the left of seed -> last.
      const next = neighbours.get(directed(seed, last, seedCount))!;
      cellNodes.push(triangle);
      cellEdges.push(next.edge);
      triangle = next.triangle;
    } while (triangle !== first[seed]);
    cellPtr[seed + 1] = cellNodes.length;
  }
  return { cellPtr, cellNodes: Int32Array.from(cellNodes), cellEdges: Int32Array.from(cellEdges) };
}
