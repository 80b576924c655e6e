import { incidence, type StrutGraph } from '../lattice/index.ts';
import type { Nodes } from './nodes.ts';
import { STRUT_NUMBERS } from './strut-shape.ts';
import type { Struts } from './struts.ts';

/** What the dynamics needs of a frame: struts' lengths, triads (e1, e2, e3 as rows, 9 each) and natural stiffness (12 each). */
export interface ElasticFrame {
  readonly graph: StrutGraph;
  readonly lengthMm: Float64Array;
  readonly triads: Float64Array;
  readonly natural: Float64Array;
  /** Modulus of each strut that the natural stiffness holds for; left out: the long-term modulus of the material. */
  readonly modulusMPa?: Float64Array;
}

/** A lattice made ready: nodes and struts in the order in which a walk from node to node meets them, so that neighbours lie close in memory. */
export interface Model {
  readonly nodes: Nodes;
  readonly struts: Struts;
  /** Reference positions, mm, 3 per node, in the model's order. */
  readonly reference: Float64Array;
  /** Node and strut of the graph at each place of the model's order. */
  readonly nodeOf: Int32Array;
  readonly strutOf: Int32Array;
  readonly massT: number;
}

/**
 * Lumped model of a frame whose natural stiffness holds for the long-term modulus, with the mass of the union (tonne). A node takes half the volume of
 * its struts, all scaled to that mass. Its inertia about every axis is half of m (d^2 / 12 + L^2 / 120) of each: the mean over the axes of a section's own
 * share, and of the length's as little as does not raise the highest frequency. (Masses at the nodes alone already give a ball a little too much: with these,
 * GP(2,0) has 2.0 % too much inertia, GP(3,0) 0.9 %, and the first two frequencies are 0.3 and 2.3 %, 0.1 and 1.0 % below those of the consistent mass.)
 */
export function modelOf(frame: ElasticFrame, massT: number): Model {
  const { graph } = frame;
  const { nodeOf, strutOf } = walk(graph);
  const placeOf = new Int32Array(graph.nodeCount);
  nodeOf.forEach((node, place) => (placeOf[node] = place));
  const reference = new Float64Array(3 * graph.nodeCount);
  nodeOf.forEach((node, place) => reference.set(graph.xyz.subarray(3 * node, 3 * node + 3), 3 * place));
  return {
    nodes: { ...lump(frame, massT, placeOf), radius: Float64Array.from(nodeOf, (node) => graph.nodeRadius[node]) },
    struts: {
      count: graph.strutCount,
      nodeCount: graph.nodeCount,
      ends: Int32Array.from({ length: 2 * graph.strutCount }, (_, k) => placeOf[graph.ends[2 * strutOf[k >> 1] + (k & 1)]]),
      numbers: numbersOf(frame, strutOf),
    },
    reference,
    nodeOf,
    strutOf,
    massT,
  };
}

/** Nodes breadth first, each part of the graph in turn, and struts as their later end is met. */
function walk(graph: StrutGraph): { nodeOf: Int32Array; strutOf: Int32Array } {
  const { ptr, ends } = incidence(graph);
  const nodeOf = new Int32Array(graph.nodeCount);
  const strutOf = new Int32Array(graph.strutCount);
  const seen = new Uint8Array(graph.nodeCount);
  const done = new Uint8Array(graph.nodeCount);
  let [met, kept] = [0, 0];
  for (let first = 0, next = 0; first < graph.nodeCount; first++) {
    if (seen[first]) continue;
    seen[first] = 1;
    for (nodeOf[met++] = first; next < met; next++) {
      const node = nodeOf[next];
      for (let k = ptr[node]; k < ptr[node + 1]; k++) {
        const other = graph.ends[ends[k] ^ 1];
        if (done[other]) strutOf[kept++] = ends[k] >> 1;
        if (!seen[other]) seen[(nodeOf[met++] = other)] = 1;
      }
      done[node] = 1;
    }
  }
  return { nodeOf, strutOf };
}

function lump({ graph, lengthMm }: ElasticFrame, massT: number, placeOf: Int32Array) {
  const mass = new Float64Array(graph.nodeCount);
  const inertia = new Float64Array(graph.nodeCount);
  for (let s = 0; s < graph.strutCount; s++) {
    const [d, D] = [graph.diameters[2 * s], graph.diameters[2 * s + 1]];
    const volume = (Math.PI / 12) * lengthMm[s] * (d * d + d * D + D * D);
    for (let end = 0; end < 2; end++) {
      const node = placeOf[graph.ends[2 * s + end]];
      mass[node] += volume / 2;
      inertia[node] += (volume / 2) * (lengthMm[s] ** 2 / 120 + graph.diameters[2 * s + end] ** 2 / 12);
    }
  }
  const density = massT / mass.reduce((sum, each) => sum + each, 0);
  return { count: graph.nodeCount, mass: mass.map((each) => density * each), inertia: inertia.map((each) => density * each) };
}

function numbersOf({ lengthMm, triads, natural }: ElasticFrame, strutOf: Int32Array): Float64Array {
  const numbers = new Float64Array(STRUT_NUMBERS * strutOf.length);
  strutOf.forEach((s, place) => {
    const at = STRUT_NUMBERS * place;
    numbers.set(triads.subarray(9 * s + 3, 9 * s + 9), at);
    numbers[at + 6] = lengthMm[s];
    numbers[at + 7] = lengthMm[s] / 30;
    numbers.set(natural.subarray(12 * s, 12 * s + 12), at + 8);
  });
  return numbers;
}
