import type { StrutGraph } from '../lattice/index.ts';
import { makeMoments } from './moments.ts';
import type { Union, UnionSurface } from './union.ts';

type Normal = readonly [number, number, number];

/**
 * Volume on the positive side of the plane through the origin less that on the negative side, mm3: the plane's own section carries no flux of x,
 * so each half is the flux through the exposed surface on its side. Struts and nodes clear of the plane keep their share; those it cuts are
 * integrated again up to it. `poll` is called for each of those, and may throw.
 */
export function halfDifference(graph: StrutGraph, surface: UnionSurface, union: Union, normal: Normal, poll?: () => void): number {
  const { nodes, nodeRadius } = surface.frames;
  const height = (v: number) => nodes[3 * v] * normal[0] + nodes[3 * v + 1] * normal[1] + nodes[3 * v + 2] * normal[2];
  const cut = makeMoments();
  let difference = 0;
  for (let s = 0; s < graph.strutCount; s++) {
    const [a, b] = [height(graph.ends[2 * s]), height(graph.ends[2 * s + 1])];
    const radius = Math.max(graph.diameters[2 * s], graph.diameters[2 * s + 1]) / 2;
    if (Math.min(a, b) >= radius) difference += union.strutVolume[s];
    else if (Math.max(a, b) <= -radius) difference -= union.strutVolume[s];
    else {
      poll?.();
      surface.addStrut(s, cut.fill(0), normal);
      difference += 2 * cut[0] - union.strutVolume[s];
    }
  }
  for (let v = 0; v < graph.nodeCount; v++) {
    if (union.nodeVolume[v] === 0) continue;
    const h = height(v);
    if (Math.abs(h) >= nodeRadius[v]) difference += Math.sign(h) * union.nodeVolume[v];
    else {
      poll?.();
      surface.addNode(v, cut.fill(0), normal);
      difference += 2 * cut[0] - union.nodeVolume[v];
    }
  }
  return difference;
}

const DIRECTIONS = 2000;
/** Planes that the quick estimate ranks highest are computed exactly. */
const CERTIFIED = 2;

/**
 * Largest |halfDifference| (mm3) over 2 000 planes through the origin, their normals spread evenly over a hemisphere (Fibonacci spiral). All are
 * ranked with each strut's share spread evenly along its axis; the highest few are then integrated exactly, and the largest of these returned.
 */
export function largestHalfDifference(graph: StrutGraph, surface: UnionSurface, union: Union, poll: () => void): number {
  const ranked: { normal: Normal; estimate: number }[] = [];
  const height = new Float64Array(graph.nodeCount);
  for (let k = 0; k < DIRECTIONS; k++) {
    poll();
    const normal = spiral(k);
    const estimate = estimateDifference(graph, surface.frames.nodes, union, normal, height);
    ranked.push({ normal, estimate: Math.abs(estimate) });
  }
  ranked.sort((a, b) => b.estimate - a.estimate);
  const exact = ranked.slice(0, CERTIFIED).map(({ normal }) => Math.abs(halfDifference(graph, surface, union, normal, poll)));
  return Math.max(...exact);
}

/** Golden-angle spiral over the hemisphere z > 0. */
function spiral(k: number): Normal {
  const z = (k + 0.5) / DIRECTIONS;
  const r = Math.sqrt(1 - z * z);
  const angle = k * Math.PI * (3 - Math.sqrt(5));
  return [r * Math.cos(angle), r * Math.sin(angle), z];
}

/** A straight line from height a to height b has the mean sign (a + b) / (|a| + |b|). */
function estimateDifference(graph: StrutGraph, nodes: Float64Array, union: Union, normal: Normal, height: Float64Array): number {
  const { ends, strutCount, nodeCount } = graph;
  let difference = 0;
  for (let v = 0; v < nodeCount; v++) {
    height[v] = nodes[3 * v] * normal[0] + nodes[3 * v + 1] * normal[1] + nodes[3 * v + 2] * normal[2];
    difference += Math.sign(height[v]) * union.nodeVolume[v];
  }
  for (let s = 0; s < strutCount; s++) {
    const a = height[ends[2 * s]];
    const b = height[ends[2 * s + 1]];
    const reach = Math.abs(a) + Math.abs(b);
    if (reach > 0) difference += (union.strutVolume[s] * (a + b)) / reach;
  }
  return difference;
}
