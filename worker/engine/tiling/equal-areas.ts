import { cornersOf } from './corners.ts';
import { even } from './relax.ts';
import type { Tiling } from './tiling.ts';

type Vector = readonly [number, number, number];

/**
 * Moves the cells' seeds on the unit sphere until all cells have the same spherical area, as far as the symmetry allows (see `even`); the corners
 * follow from the seeds as in the plain construction.
 */
export function equalAreas(tiling: Tiling, poll?: () => void): Tiling {
  const { cellPtr, cellNodes, nodeCells, symmetry } = tiling;
  const ring = (cell: number) => cellNodes.subarray(cellPtr[cell], cellPtr[cell + 1]);
  const { points, residual } = even({
    poll,
    points: tiling.cellDirection,
    pointOrbit: symmetry.cellOrbit,
    pointRotation: symmetry.cellRotation,
    rotations: symmetry.rotations,
    quantityOrbit: symmetry.cellOrbit,
    value: (cell, seeds) => polygonArea(Array.from(ring(cell), (node) => cornerAt(seeds, nodeCells, node))),
    gradient: (cell, seeds, add) => {
      const nodes = ring(cell);
      const corners = Array.from(nodes, (node) => cornerAt(seeds, nodeCells, node));
      areaGradient(corners).forEach((slope, k) => {
        // The corner is s / |s| with s the sum of its three seeds: each seed's move counts at right angles to the corner, over |s|.
        const [corner, sum] = [corners[k], cornerSum(seeds, nodeCells, nodes[k])];
        const length = Math.hypot(...sum);
        const radial = dot(slope, corner);
        const [x, y, z] = [0, 1, 2].map((i) => (slope[i] - radial * corner[i]) / length);
        for (let s = 0; s < 3; s++) add(nodeCells[3 * nodes[k] + s], x, y, z);
      });
    },
  });
  return { ...tiling, cellDirection: points, xyz: cornersOf(points, nodeCells), relaxationResidual: residual };
}

function cornerSum(seeds: Float64Array, nodeCells: Int32Array, node: number): Vector {
  const [a, b, c] = [0, 1, 2].map((k) => 3 * nodeCells[3 * node + k]);
  return [seeds[a] + seeds[b] + seeds[c], seeds[a + 1] + seeds[b + 1] + seeds[c + 1], seeds[a + 2] + seeds[b + 2] + seeds[c + 2]];
}

function cornerAt(seeds: Float64Array, nodeCells: Int32Array, node: number): Vector {
  const [x, y, z] = cornerSum(seeds, nodeCells, node);
  const length = Math.hypot(x, y, z);
  return [x / length, y / length, z / length];
}

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** Area of a triangle on the unit sphere: tan(E / 2) = a . (b x c) / (1 + a.b + b.c + c.a) (van Oosterom and Strackee 1983). */
const halfTangent = (a: Vector, b: Vector, c: Vector): [number, number] => [dot(a, cross(b, c)), 1 + dot(a, b) + dot(b, c) + dot(c, a)];

/** Area of a polygon on the unit sphere, corners counter-clockwise, by a fan of triangles. */
function polygonArea(corners: readonly Vector[]): number {
  let area = 0;
  for (let k = 1; k + 1 < corners.length; k++) area += 2 * Math.atan2(...halfTangent(corners[0], corners[k], corners[k + 1]));
  return area;
}

/** Gradient of that area with respect to each corner: of E = 2 atan2(N, D) it is 2 (D dN - N dD) / (N^2 + D^2). */
function areaGradient(corners: readonly Vector[]): Vector[] {
  const gradient = corners.map((): [number, number, number] => [0, 0, 0]);
  for (let k = 1; k + 1 < corners.length; k++) {
    const triangle = [0, k, k + 1];
    const [a, b, c] = triangle.map((i) => corners[i]);
    const [N, D] = halfTangent(a, b, c);
    const scale = 2 / (N * N + D * D);
    const slopes: [Vector, Vector, Vector][] = [
      [cross(b, c), b, c],
      [cross(c, a), c, a],
      [cross(a, b), a, b],
    ];
    slopes.forEach(([dN, p, q], corner) => {
      for (let i = 0; i < 3; i++) gradient[triangle[corner]][i] += scale * (D * dN[i] - N * (p[i] + q[i]));
    });
  }
  return gradient;
}
