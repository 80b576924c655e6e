import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';
import { strutCaps } from './caps.ts';
import { type Cover, makeCover } from './cover.ts';
import { type Frames, LENGTH, makeFrames, RADIUS, SLOPE, STRIDE } from './frames.ts';
import { makeLateral } from './lateral.ts';
import { addMoments, addRotated, type Moments, makeMoments } from './moments.ts';
import { addNodeSphere } from './node-sphere.ts';
import { addTouchedSphere } from './touched-sphere.ts';
import type { Touching } from './touching.ts';

/** The surface of the union, one strut or node at a time; each share is about the origin of the frames. */
export interface UnionSurface {
  readonly frames: Frames;
  readonly cover: Cover;
  /** Puts everything that may cover a strut into the cover. */
  gather(strut: number): void;
  /** Adds the exposed lateral surface of a strut, optionally only its part where x . normal >= 0. */
  addStrut(strut: number, out: Moments, normal?: readonly [number, number, number]): void;
  /** Adds the exposed part of a node's sphere, likewise. */
  addNode(node: number, out: Moments, normal?: readonly [number, number, number]): void;
}

/** `touching`: struts that overlap without sharing a node (see `findTouching`); left out for a lattice whose struts only meet at nodes. */
export function unionSurface(graph: StrutGraph, origin: readonly [number, number, number] = [0, 0, 0], touching?: Touching): UnionSurface {
  const frames = makeFrames(graph, origin);
  const cover = makeCover(frames);
  const addLateral = makeLateral(frames, cover);
  const gatherAt = (strut: number) => gather(graph, frames, cover, strut, touching?.get(strut));
  return {
    frames,
    cover,
    gather: gatherAt,
    addStrut: (strut, out, normal) => {
      gatherAt(strut);
      addLateral(strut, out, normal);
    },
    addNode: (node, out, normal) => {
      const caps = strutCaps(frames, node);
      const centre = frames.nodes.subarray(3 * node, 3 * node + 3);
      if (normal) {
        const cosine = (centre[0] * normal[0] + centre[1] * normal[1] + centre[2] * normal[2]) / frames.nodeRadius[node];
        if (cosine <= -1) return;
        if (cosine < 1) caps.push({ axis: [-normal[0], -normal[1], -normal[2]], cosine });
      }
      const cut = touching ? strutsCutting(frames, node, touching) : [];
      if (cut.length > 0) addTouchedSphere(frames, node, caps, cut, out);
      else addNodeSphere(centre, frames.nodeRadius[node], caps, out);
    },
  };
}

/** Everything that may cover a strut: the other struts and the spheres at its two ends, and what touches it elsewhere. */
function gather(graph: StrutGraph, frames: Frames, cover: Cover, strut: number, touching: readonly number[] = []): void {
  const { incidentPtr, incident } = frames;
  cover.begin(strut);
  for (let end = 0; end < 2; end++) {
    const node = graph.ends[2 * strut + end];
    if (bulges(frames, strut, end, node)) cover.addNode(node);
    for (let k = incidentPtr[node]; k < incidentPtr[node + 1]; k++) if (incident[k] !== strut) cover.addStrut(incident[k]);
  }
  for (const other of touching) {
    cover.addStrut(other);
    cover.addNode(graph.ends[2 * other]);
    cover.addNode(graph.ends[2 * other + 1]);
  }
}

/** Struts that overlap one of the node's own without meeting at the node, and so may cut its sphere. */
function strutsCutting({ incidentPtr, incident }: Frames, node: number, touching: Touching): number[] {
  const cutting = new Set<number>();
  for (let k = incidentPtr[node]; k < incidentPtr[node + 1]; k++) for (const other of touching.get(incident[k]) ?? []) cutting.add(other);
  for (let k = incidentPtr[node]; k < incidentPtr[node + 1]; k++) cutting.delete(incident[k]);
  return [...cutting];
}

/** Whether a node's sphere covers any of the strut's own surface: a sphere as wide as the strut only touches it, where rounding would decide. */
function bulges({ data, nodeRadius }: Frames, strut: number, end: number, node: number): boolean {
  const s = STRIDE * strut;
  const radius = data[s + RADIUS] + (end === 0 ? 0 : data[s + SLOPE] * data[s + LENGTH]);
  const narrows = (end === 0 ? data[s + SLOPE] : -data[s + SLOPE]) < 0;
  return narrows || nodeRadius[node] > radius * (1 + 1e-9);
}

/** Moments of the union and the volume share of every strut and node, all about the frames' origin. */
export interface Union {
  readonly moments: Moments;
  readonly strutVolume: Float64Array;
  readonly nodeVolume: Float64Array;
}

/**
 * Integrates the whole surface. With a symmetry group only one strut and one node of each orbit are integrated: the sum over an orbit is its size
 * times the mean over the group. A share is that of the cone from the origin over the exposed surface, so it may be negative.
 */
export function integrateUnion(graph: StrutGraph, surface: UnionSurface, symmetry: GraphSymmetry | null): Union {
  const moments = makeMoments();
  const share = makeMoments();
  const representatives = makeMoments();
  const sum = (count: number, orbit: Int32Array | undefined, add: (index: number, out: Moments) => void): Float64Array => {
    const volume = new Float64Array(count);
    const size = orbit ? orbitSizes(orbit) : null;
    for (let k = 0; k < count; k++) {
      if (orbit && orbit[k] !== k) {
        volume[k] = volume[orbit[k]];
        continue;
      }
      add(k, share.fill(0));
      volume[k] = share[0];
      addMoments(size ? representatives : moments, share, size ? size[k] : 1);
    }
    return volume;
  };
  const strutVolume = sum(graph.strutCount, symmetry?.strutOrbit, surface.addStrut);
  const nodeVolume = sum(graph.nodeCount, symmetry?.nodeOrbit, surface.addNode);
  const order = symmetry ? symmetry.rotations.length / 9 : 0;
  for (let g = 0; g < order; g++) addRotated(moments, representatives, symmetry!.rotations, 9 * g, 1 / order);
  return { moments, strutVolume, nodeVolume };
}

/** Size of each orbit at its representative, 0 elsewhere. A representative is the lowest index of its orbit. */
function orbitSizes(orbit: Int32Array): Int32Array {
  const sizes = new Int32Array(orbit.length);
  for (const representative of orbit) sizes[representative]++;
  return sizes;
}
