import type { StrutGraph } from '../lattice/index.ts';
import { type Cap, strutCap } from './caps.ts';
import type { Cover } from './cover.ts';
import { AXIS, type Frames, LENGTH, RADIUS, SLOPE, START, STRIDE } from './frames.ts';
import type { Touching } from './touching.ts';

/**
 * Puts everything that may cover a strut into the cover: the other struts and the spheres at its two ends, far spheres that reach back to it, and
 * what touches it elsewhere. Returns the angles at which a strut that touches it may only kink its outline, so that no pattern tells.
 * `names`, if given, gets what each body of the cover is: a strut's number, or -1 - node.
 */
export function gather(
  graph: StrutGraph,
  frames: Frames,
  cover: Cover,
  strut: number,
  touching: Touching | undefined,
  names: number[] = [],
): number[] {
  const { at } = frames;
  const kinks: number[] = [];
  const addStrut = (other: number): number => {
    const lean = cover.addStrut(other);
    if (cover.count() > names.length) names.push(other);
    return lean;
  };
  const addNode = (node: number): void => {
    cover.addNode(node);
    names.push(-1 - node);
  };
  cover.begin(strut);
  names.length = 0;
  for (let end = 0; end < 2; end++) {
    const node = graph.ends[2 * strut + end];
    if (bulges(frames, strut, end, node)) addNode(node);
    for (let k = at.ptr[node]; k < at.ptr[node + 1]; k++) {
      const other = at.ends[k] >> 1;
      if (other === strut) continue;
      addStrut(other);
      const far = graph.ends[at.ends[k] ^ 1];
      if (reaches(frames, far, strut)) addNode(far);
    }
  }
  for (const other of touching?.get(strut) ?? []) {
    const lean = addStrut(other);
    kinks.push(lean + Math.PI / 2, lean - Math.PI / 2);
    addNode(graph.ends[2 * other]);
    addNode(graph.ends[2 * other + 1]);
  }
  return kinks;
}

const widest = ({ data }: Frames, strut: number): number => {
  const s = STRIDE * strut;
  return Math.max(data[s + RADIUS], data[s + RADIUS] + data[s + SLOPE] * data[s + LENGTH]);
};

/** Whether a node's sphere overlaps a strut, or nearly: its distance from the strut's axis against its own radius and the strut's widest. */
function reaches(frames: Frames, node: number, strut: number): boolean {
  const { data, nodes, nodeRadius } = frames;
  const s = STRIDE * strut;
  const d = [0, 1, 2].map((k) => nodes[3 * node + k] - data[s + START + k]);
  const along = d[0] * data[s + AXIS] + d[1] * data[s + AXIS + 1] + d[2] * data[s + AXIS + 2];
  const t = Math.min(data[s + LENGTH], Math.max(0, along));
  const square = d[0] * d[0] + d[1] * d[1] + d[2] * d[2] - along * along + (along - t) ** 2;
  return square < (nodeRadius[node] + widest(frames, strut)) ** 2;
}

/** Whether a node's sphere covers any of the strut's own surface: a sphere as wide as the strut only touches it, where rounding would decide. */
function bulges({ data, nodeRadius }: Frames, strut: number, end: number, node: number): boolean {
  const s = STRIDE * strut;
  const radius = data[s + RADIUS] + (end === 0 ? 0 : data[s + SLOPE] * data[s + LENGTH]);
  const narrows = (end === 0 ? data[s + SLOPE] : -data[s + SLOPE]) < 0;
  return narrows || nodeRadius[node] > radius * (1 + 1e-9);
}

/**
 * The caps that coaxial struts and other spheres cut from a node's sphere. A sphere of radius R' at distance L covers the directions nearer to its
 * centre than cosine = (L^2 + R^2 - R'^2) / (2 L R). null: another sphere swallows this one.
 */
export function capsAt(graph: StrutGraph, frames: Frames, node: number, cutting: readonly number[]): Cap[] | null {
  const { at, data, nodes, nodeRadius } = frames;
  const R = nodeRadius[node];
  const caps: Cap[] = [];
  for (let k = at.ptr[node]; k < at.ptr[node + 1]; k++) {
    const cap = strutCap(frames, at.ends[k], R);
    if (cap) caps.push(cap);
  }
  const close = Array.from(at.ends.subarray(at.ptr[node], at.ptr[node + 1]))
    .filter((end) => data[STRIDE * (end >> 1) + LENGTH] < R + nodeRadius[graph.ends[end ^ 1]])
    .map((end) => graph.ends[end ^ 1]);
  for (const other of new Set([...close, ...cutting.flatMap((strut) => [graph.ends[2 * strut], graph.ends[2 * strut + 1]])])) {
    if (other === node) continue;
    const d = [0, 1, 2].map((k) => nodes[3 * other + k] - nodes[3 * node + k]);
    const L = Math.hypot(d[0], d[1], d[2]);
    const cosine = (L * L + R * R - nodeRadius[other] ** 2) / (2 * L * R);
    if (cosine <= -1) return null;
    if (cosine < 1) caps.push({ axis: [d[0] / L, d[1] / L, d[2] / L], cosine });
  }
  return caps;
}

/** Struts that do not meet at a node but may cut its sphere: those that overlap one of its own, and those at the far end of one that reach back. */
export function strutsCutting(graph: StrutGraph, frames: Frames, node: number, touching: Touching | undefined): number[] {
  const { at } = frames;
  const cutting = new Set<number>();
  const own = at.ends.subarray(at.ptr[node], at.ptr[node + 1]);
  for (const end of own) {
    for (const other of touching?.get(end >> 1) ?? []) cutting.add(other);
    const far = graph.ends[end ^ 1];
    for (let k = at.ptr[far]; k < at.ptr[far + 1]; k++) if (reaches(frames, node, at.ends[k] >> 1)) cutting.add(at.ends[k] >> 1);
  }
  for (const end of own) cutting.delete(end >> 1);
  return [...cutting];
}
