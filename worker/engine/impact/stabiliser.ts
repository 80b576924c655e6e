import type { ElasticFrame } from './model.ts';
import type { Direction } from './turn.ts';

/** One way in which a lattice falls on itself: an orthogonal matrix (row-major), and where it sends every node and strut. */
export interface SelfMap {
  readonly matrix: Float64Array;
  readonly nodes: Int32Array;
  readonly struts: Int32Array;
}

/** Two places closer than this (mm) are one. */
const SAME_MM = 1e-6;
/** Diameters and stiffnesses that differ by a smaller share are one. */
const SAME_SHARE = 1e-9;

/**
 * The rotations and mirror images that leave a direction where it is and map a frame about the origin onto itself, stiffness included; the first is the
 * identity. `rotations`: a group of rotations (row-major, 9 each); with its inversion, where the frame has one, the candidates are its members R with
 * R down = down, and -R with R down = -down. `ofLine`: also those that turn the direction about, as between two plates up and down are alike.
 */
export function stabiliser(frame: ElasticFrame, rotations: Float64Array, down: Direction, ofLine = false): SelfMap[] {
  const find = placesOf(frame);
  const between = strutsOf(frame);
  const maps: SelfMap[] = [];
  for (let r = 0; r < rotations.length; r += 9) {
    const R = rotations.subarray(r, r + 9);
    const cosine = [0, 1, 2].reduce((sum, i) => sum + down[i] * (R[3 * i] * down[0] + R[3 * i + 1] * down[1] + R[3 * i + 2] * down[2]), 0);
    if (Math.abs(cosine) < 1 - 1e-12) continue;
    for (const sign of ofLine ? [1, -1] : [Math.sign(cosine)]) {
      const matrix = R.map((each) => sign * each);
      const map = mapOf(frame, matrix, find, between);
      if (map) maps.push(map);
    }
  }
  const distance = ({ matrix }: SelfMap) => matrix.reduce((sum, each, k) => sum + Math.abs(each - (k % 4 === 0 ? 1 : 0)), 0);
  return maps.sort((a, b) => distance(a) - distance(b));
}

function mapOf(
  frame: ElasticFrame,
  M: Float64Array,
  find: (x: number, y: number, z: number) => number,
  between: (a: number, b: number) => number,
): SelfMap | null {
  const { nodeCount, strutCount, xyz, ends } = frame.graph;
  const nodes = new Int32Array(nodeCount);
  for (let v = 0; v < nodeCount; v++) {
    const [x, y, z] = [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]];
    nodes[v] = find(M[0] * x + M[1] * y + M[2] * z, M[3] * x + M[4] * y + M[5] * z, M[6] * x + M[7] * y + M[8] * z);
    if (nodes[v] < 0) return null;
  }
  const struts = new Int32Array(strutCount);
  for (let s = 0; s < strutCount; s++) {
    struts[s] = between(nodes[ends[2 * s]], nodes[ends[2 * s + 1]]);
    if (struts[s] < 0 || !alike(frame, s, struts[s], nodes[ends[2 * s]] === ends[2 * struts[s]])) return null;
  }
  return { matrix: M, nodes, struts };
}

/** Same diameters and same stiffness, as far as it does not depend on how the triads lie; `straight`: end 0 goes to end 0. */
function alike({ graph: { diameters }, natural }: ElasticFrame, s: number, t: number, straight: boolean): boolean {
  const [a, b] = straight ? [0, 1] : [1, 0];
  // Axial, twist, traces of the bending blocks of both ends.
  const ends = (k: number) => [natural[12 * k + 2] + natural[12 * k + 6], natural[12 * k + 9] + natural[12 * k + 11]];
  const pairs = [
    [diameters[2 * s], diameters[2 * t + a]],
    [diameters[2 * s + 1], diameters[2 * t + b]],
    [natural[12 * s], natural[12 * t]],
    [natural[12 * s + 1], natural[12 * t + 1]],
    [ends(s)[0], ends(t)[a]],
    [ends(s)[1], ends(t)[b]],
  ];
  return pairs.every(([x, y]) => Math.abs(x - y) <= SAME_SHARE * Math.abs(x));
}

/**
 * Finds the node at a place, or -1. Boxes of 0.01 mm; a place near the edge of one is looked for in the neighbours too. (Keys are good to half a metre;
 * beyond, boxes that share a key hide nodes from each other, and so a symmetry.)
 */
function placesOf({ graph: { nodeCount, xyz } }: ElasticFrame): (x: number, y: number, z: number) => number {
  const boxes = new Map<number, number>();
  const box = (x: number) => Math.round(100 * x) + BOXES / 2;
  const key = (i: number, j: number, k: number) => (i * BOXES + j) * BOXES + k;
  for (let v = 0; v < nodeCount; v++) boxes.set(key(box(xyz[3 * v]), box(xyz[3 * v + 1]), box(xyz[3 * v + 2])), v);
  return (x, y, z) => {
    for (let i = box(x - SAME_MM); i <= box(x + SAME_MM); i++)
      for (let j = box(y - SAME_MM); j <= box(y + SAME_MM); j++)
        for (let k = box(z - SAME_MM); k <= box(z + SAME_MM); k++) {
          const v = boxes.get(key(i, j, k));
          if (v !== undefined && Math.hypot(xyz[3 * v] - x, xyz[3 * v + 1] - y, xyz[3 * v + 2] - z) < SAME_MM) return v;
        }
    return -1;
  };
}
/** Boxes along an axis: three of these fit a whole number. */
const BOXES = 2 ** 17;

/** Finds the strut between two nodes, either way round, or -1. */
function strutsOf({ graph: { nodeCount, strutCount, ends } }: ElasticFrame): (a: number, b: number) => number {
  const index = new Map<number, number>();
  const key = (a: number, b: number) => Math.min(a, b) * nodeCount + Math.max(a, b);
  for (let s = 0; s < strutCount; s++) index.set(key(ends[2 * s], ends[2 * s + 1]), s);
  return (a, b) => index.get(key(a, b)) ?? -1;
}
