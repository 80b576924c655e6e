import type { GraphSymmetry, StrutGraph } from './graph.ts';

/** Two places closer than this (mm) are one, and two diameters. */
const SAME = 1e-6;

/**
 * The subgroup of `rotations` (matrices, row-major, 9 each, a group) that maps a graph about the origin onto itself, diameters included, and its
 * orbits; null when only the identity does. Rotations that follow from those already found are not tried again, so a full group costs three or
 * four tries.
 */
export function findSymmetry(graph: StrutGraph, rotations: Float64Array): GraphSymmetry | null {
  const places = nodeIndex(graph);
  const struts = strutIndex(graph);
  const order = rotations.length / 9;
  const nodes = roots(graph.nodeCount);
  const strutRoots = roots(graph.strutCount);
  let group = new Set([identityOf(rotations)]);
  for (let r = 0; r < order; r++) {
    if (group.has(r)) continue;
    const image = imageUnder(graph, rotations.subarray(9 * r, 9 * r + 9), places, struts);
    if (!image) continue;
    group = closure(rotations, group, r);
    image.nodes.forEach((to, from) => join(nodes, from, to));
    image.struts.forEach((to, from) => join(strutRoots, from, to));
  }
  if (group.size === 1) return null;
  const kept = new Float64Array(9 * group.size);
  [...group].forEach((r, k) => kept.set(rotations.subarray(9 * r, 9 * r + 9), 9 * k));
  return { rotations: kept, nodeOrbit: lowest(nodes), strutOrbit: lowest(strutRoots) };
}

type Lookup = (x: number, y: number, z: number) => number;

/** Finds the node at a place, or -1: nodes are sorted into boxes of 0.01 mm, and the neighbouring boxes are looked at where one is on the edge. */
function nodeIndex({ nodeCount, xyz }: StrutGraph): Lookup {
  const boxes = new Map<string, number>();
  const key = (x: number, y: number, z: number) => `${x} ${y} ${z}`;
  const box = (x: number) => Math.round(x * 100);
  for (let v = 0; v < nodeCount; v++) boxes.set(key(box(xyz[3 * v]), box(xyz[3 * v + 1]), box(xyz[3 * v + 2])), v);
  const near = (v: number, x: number, y: number, z: number) =>
    Math.abs(xyz[3 * v] - x) < SAME && Math.abs(xyz[3 * v + 1] - y) < SAME && Math.abs(xyz[3 * v + 2] - z) < SAME;
  return (x, y, z) => {
    for (const px of new Set([box(x - SAME), box(x + SAME)])) {
      for (const py of new Set([box(y - SAME), box(y + SAME)])) {
        for (const pz of new Set([box(z - SAME), box(z + SAME)])) {
          const v = boxes.get(key(px, py, pz));
          if (v !== undefined && near(v, x, y, z)) return v;
        }
      }
    }
    return -1;
  };
}

/** The strut from one node to another, with its diameters in that order, or undefined. */
function strutIndex({ strutCount, nodeCount, ends, diameters }: StrutGraph) {
  const index = new Map<number, number>();
  for (let s = 0; s < strutCount; s++) {
    index.set(ends[2 * s] * nodeCount + ends[2 * s + 1], s);
    index.set(ends[2 * s + 1] * nodeCount + ends[2 * s], s);
  }
  return (from: number, to: number): { strut: number; diameters: [number, number] } | undefined => {
    const strut = index.get(from * nodeCount + to);
    if (strut === undefined) return undefined;
    const turned = ends[2 * strut] === from ? 0 : 1;
    return { strut, diameters: [diameters[2 * strut + turned], diameters[2 * strut + 1 - turned]] };
  };
}

/** Where a rotation sends every node and strut; null as soon as one has no image. */
function imageUnder(graph: StrutGraph, g: Float64Array, places: Lookup, struts: ReturnType<typeof strutIndex>) {
  const { nodeCount, strutCount, xyz, ends, diameters } = graph;
  const nodes = new Int32Array(nodeCount);
  for (let v = 0; v < nodeCount; v++) {
    const [x, y, z] = [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]];
    nodes[v] = places(g[0] * x + g[1] * y + g[2] * z, g[3] * x + g[4] * y + g[5] * z, g[6] * x + g[7] * y + g[8] * z);
    if (nodes[v] < 0) return null;
  }
  const images = new Int32Array(strutCount);
  for (let s = 0; s < strutCount; s++) {
    const found = struts(nodes[ends[2 * s]], nodes[ends[2 * s + 1]]);
    if (!found) return null;
    if (Math.abs(found.diameters[0] - diameters[2 * s]) > SAME || Math.abs(found.diameters[1] - diameters[2 * s + 1]) > SAME) return null;
    images[s] = found.strut;
  }
  return { nodes, struts: images };
}

const identityOf = (rotations: Float64Array): number => nearest(rotations, [1, 0, 0, 0, 1, 0, 0, 0, 1]);

/** Index of the rotation closest to a matrix. */
function nearest(rotations: Float64Array, matrix: ArrayLike<number>): number {
  let best = 0;
  let most = Number.NEGATIVE_INFINITY;
  for (let r = 0; r < rotations.length / 9; r++) {
    let alike = 0;
    for (let k = 0; k < 9; k++) alike += rotations[9 * r + k] * matrix[k];
    if (alike > most) [best, most] = [r, alike];
  }
  return best;
}

/** The group that a group and one more rotation generate: products are added until there are no new ones. */
function closure(rotations: Float64Array, group: ReadonlySet<number>, added: number): Set<number> {
  const grown = new Set([...group, added]);
  for (let size = 0; size < grown.size; ) {
    size = grown.size;
    for (const a of [...grown]) for (const b of [...grown]) grown.add(nearest(rotations, product(rotations, a, b)));
  }
  return grown;
}

function product(rotations: Float64Array, a: number, b: number): Float64Array {
  const matrix = new Float64Array(9);
  for (let i = 0; i < 9; i++) {
    for (let k = 0; k < 3; k++) matrix[i] += rotations[9 * a + 3 * Math.floor(i / 3) + k] * rotations[9 * b + 3 * k + (i % 3)];
  }
  return matrix;
}

const roots = (count: number): Int32Array => Int32Array.from({ length: count }, (_, k) => k);

function rootOf(parent: Int32Array, k: number): number {
  while (parent[k] !== k) {
    parent[k] = parent[parent[k]];
    k = parent[k];
  }
  return k;
}

/** Joins two orbits under the lower of their lowest members. */
function join(parent: Int32Array, a: number, b: number): void {
  const [ra, rb] = [rootOf(parent, a), rootOf(parent, b)];
  parent[Math.max(ra, rb)] = Math.min(ra, rb);
}

const lowest = (parent: Int32Array): Int32Array => parent.map((_, k) => rootOf(parent, k));
