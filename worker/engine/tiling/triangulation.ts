import type { Icosahedron } from './icosahedron.ts';

/** Subdivision of the icosahedron into 20T small triangles whose corners, the seeds, lie at integer barycentric weights. */
export interface Triangulation {
  readonly T: number;
  readonly seedCount: number;
  /** Radially projected seeds, 3 * seedCount, on the unit sphere; the first 12 are the icosahedron's vertices. */
  readonly seeds: Float64Array;
  /** Seeds of each small triangle, counter-clockwise seen from outside, 3 * 20T. */
  readonly triangles: Int32Array;
  /** Where one rotation, given by its action on the 12 vertices, sends each seed. */
  seedImage(vertexImage: ArrayLike<number>): Int32Array;
}

/** Weights over the icosahedron's vertices, ascending by vertex, summing to T: an exact name for a point of its surface. */
type Weights = readonly (readonly [vertex: number, weight: number])[];

const nameOf = (weights: Weights): string => weights.map(([v, w]) => `${v}:${w}`).join(' ');
const sorted = (weights: [number, number][]): Weights => weights.filter(([, w]) => w !== 0).sort((p, q) => p[0] - q[0]);

/**
 * Each face carries the chart in Eisenstein integers p + q w (w = exp(i pi / 3)) that puts its corners A, B, C at 0, W = m + n w and w W
 * (Caspar and Klug 1962). All arithmetic is in integers, so points on shared edges merge exactly.
 */
export function triangulate(solid: Icosahedron, m: number, n: number): Triangulation {
  const T = m * m + m * n + n * n;
  const locate = locator(solid.faces, m, n);
  const seeds: Weights[] = Array.from({ length: 12 }, (_, v) => [[v, T]]);
  const index = new Map(seeds.map((weights, k) => [nameOf(weights), k]));
  const seedAt = (face: number, p: number, q: number): number => {
    const weights = locate(face, 0, p, q);
    const name = nameOf(weights);
    if (!index.has(name)) index.set(name, seeds.push(weights) - 1);
    return index.get(name)!;
  };
  const triangles = collectTriangles(m, n, seedAt);
  const positions = new Float64Array(3 * seeds.length);
  seeds.forEach((weights, k) => positions.set(project(solid.vertices, weights), 3 * k));
  return {
    T,
    seedCount: seeds.length,
    seeds: positions,
    triangles,
    seedImage: (image) => Int32Array.from(seeds, (weights) => index.get(nameOf(sorted(weights.map(([v, w]) => [image[v], w]))))!),
  };
}

/** Barycentric weights (numerators over T) of chart point p + q w: (p + q w) conj(m + n w) = b + c w. */
function chartWeights(m: number, n: number, p: number, q: number): [number, number, number] {
  const b = p * (m + n) + q * n;
  const c = q * m - p * n;
  return [m * m + m * n + n * n - b - c, b, c];
}

/** (p + q w) w = -q + (p + q) w. */
const timesOmega = (p: number, q: number): [number, number] => [-q, p + q];

/** Names the point p + q w of the chart that has corner `start` of a face at 0; a point beyond an edge is followed into the face across it. */
function locator(faces: Int32Array, m: number, n: number) {
  const across = new Map<string, [face: number, corner: number]>();
  for (let f = 0; f < 20; f++) for (let k = 0; k < 3; k++) across.set(`${faces[3 * f + k]} ${faces[3 * f + ((k + 1) % 3)]}`, [f, k]);
  return function locate(face: number, start: number, p: number, q: number): Weights {
    const corner = (k: number) => faces[3 * face + ((start + k) % 3)];
    const weights = chartWeights(m, n, p, q);
    if (weights[0] < 0) {
      // Across edge B-C: the neighbour's chart has C at 0 and B at W, so z -> (z - w W) w.
      const [next, at] = across.get(`${corner(2)} ${corner(1)}`)!;
      return locate(next, at, ...timesOmega(p + n, q - m - n));
    }
    if (weights[1] < 0 || weights[2] < 0) {
      // Chart with B at 0, C at W and A at w W: z -> -(z - W) w.
      const [a, b] = timesOmega(p - m, q - n);
      return locate(face, (start + 1) % 3, -a, -b);
    }
    return sorted(weights.map((w, k): [number, number] => [corner(k), w]));
  };
}

/** The small triangles whose centroid lies on a face or on its edge; those on an edge are met from both faces and kept once. */
function collectTriangles(m: number, n: number, seedAt: (face: number, p: number, q: number) => number): Int32Array {
  const triangles: number[] = [];
  const met = new Set<string>();
  const chart = trianglesOfChart(m, n);
  for (let face = 0; face < 20; face++) {
    for (const corners of chart) {
      const seeds = corners.map(([p, q]) => seedAt(face, p, q));
      const name = [...seeds].sort((a, b) => a - b).join(' ');
      if (met.has(name)) continue;
      met.add(name);
      triangles.push(...seeds);
    }
  }
  return Int32Array.from(triangles);
}

/** Upward triangles z, z + 1, z + w and downward ones z, z + w, z + w - 1 whose centroid has no negative weight. */
function trianglesOfChart(m: number, n: number): [number, number][][] {
  const found: [number, number][][] = [];
  for (let p = -n - 1; p <= m + 1; p++) {
    for (let q = -1; q <= m + n + 1; q++) {
      for (const corners of [
        [
          [p, q],
          [p + 1, q],
          [p, q + 1],
        ],
        [
          [p, q],
          [p, q + 1],
          [p - 1, q + 1],
        ],
      ] as [number, number][][]) {
        const centroid = chartWeights(m, n, corners[0][0] + corners[1][0] + corners[2][0], corners[0][1] + corners[1][1] + corners[2][1]);
        const T = m * m + m * n + n * n; // the centroid's weights are numerators over 3T
        if (centroid[0] + 2 * T >= 0 && centroid[1] >= 0 && centroid[2] >= 0) found.push(corners);
      }
    }
  }
  return found;
}

/** Point of the flat face, carried radially to the unit sphere. */
function project(vertices: Float64Array, weights: Weights): number[] {
  const point = [0, 1, 2].map((k) => weights.reduce((sum, [v, w]) => sum + w * vertices[3 * v + k], 0));
  const length = Math.hypot(...point);
  return point.map((x) => x / length);
}
