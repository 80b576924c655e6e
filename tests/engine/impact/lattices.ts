import type { ElasticFrame } from '../../../worker/engine/impact/model.ts';
import { nodeRadii, type StrutGraph } from '../../../worker/engine/lattice/index.ts';

/** Random numbers in -1 .. 1 (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return (2 * ((t ^ (t >>> 14)) >>> 0)) / 4294967296 - 1;
  };
}

/** A graph from places, pairs of nodes and one diameter. */
export function graphOf(
  places: readonly (readonly number[])[],
  pairs: readonly (readonly [number, number])[],
  diameterMm: number,
): StrutGraph {
  const graph = {
    nodeCount: places.length,
    strutCount: pairs.length,
    xyz: Float64Array.from(places.flat()),
    ends: Int32Array.from(pairs.flat()),
    diameters: new Float64Array(2 * pairs.length).fill(diameterMm),
    roles: new Int32Array(pairs.length),
    roleNames: ['layer-0'],
  };
  return { ...graph, nodeRadius: nodeRadii(graph.nodeCount, graph.ends, graph.diameters) };
}

/** Prismatic Timoshenko struts without any joint model: natural stiffness by the closed form (Cowper's shear coefficient). */
export function plainFrame(graph: StrutGraph, modulusMPa: number, poisson = 0.45): ElasticFrame {
  const lengthMm = new Float64Array(graph.strutCount);
  const triads = new Float64Array(9 * graph.strutCount);
  const natural = new Float64Array(12 * graph.strutCount);
  for (let s = 0; s < graph.strutCount; s++) {
    const [a, b] = [graph.ends[2 * s], graph.ends[2 * s + 1]];
    const d = [0, 1, 2].map((k) => graph.xyz[3 * b + k] - graph.xyz[3 * a + k]);
    const L = Math.hypot(...d);
    const e1 = d.map((x) => x / L);
    const least = [0, 1, 2].reduce((i, k) => (Math.abs(e1[k]) < Math.abs(e1[i]) ? k : i), 0);
    const raw = [0, 1, 2].map((k) => (k === least ? 1 : 0) - e1[least] * e1[k]);
    const e2 = raw.map((x) => x / Math.hypot(...raw));
    const e3 = [e1[1] * e2[2] - e1[2] * e2[1], e1[2] * e2[0] - e1[0] * e2[2], e1[0] * e2[1] - e1[1] * e2[0]];
    lengthMm[s] = L;
    triads.set([...e1, ...e2, ...e3], 9 * s);
    natural.set(prismatic(L, graph.diameters[2 * s], modulusMPa, poisson), 12 * s);
  }
  return { graph, lengthMm, triads, natural };
}

function prismatic(L: number, d: number, E: number, nu: number): number[] {
  const [A, I, G] = [(Math.PI * d ** 2) / 4, (Math.PI * d ** 4) / 64, E / (2 * (1 + nu))];
  const kappa = (6 * (1 + nu)) / (7 + 6 * nu);
  const shear = (12 * E * I) / (kappa * G * A * L * L);
  const unit = (E * I) / (L * (1 + shear));
  const [near, far] = [(4 + shear) * unit, (2 - shear) * unit];
  return [(E * A) / L, (2 * G * I) / L, near, 0, far, 0, near, 0, far, near, 0, near];
}

/** The same graph with every place moved by a rigid motion. */
export function turnedGraph(graph: StrutGraph, turn: (place: readonly number[]) => readonly number[]): StrutGraph {
  const xyz = new Float64Array(graph.xyz.length);
  for (let v = 0; v < graph.nodeCount; v++) xyz.set(turn([...graph.xyz.subarray(3 * v, 3 * v + 3)]), 3 * v);
  return { ...graph, xyz };
}
