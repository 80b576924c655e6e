import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';
import type { Cap } from './caps.ts';
import { type Cover, makeCover } from './cover.ts';
import { type Frames, makeFrames } from './frames.ts';
import { makeLateral } from './lateral.ts';
import { addMoments, addRotated, type Moments, makeMoments } from './moments.ts';
import { capsAt, gather, strutsCutting } from './neighbours.ts';
import { openRegion } from './node-sphere.ts';
import { addSphereFlux, addSphereGrowth, type RegionMoments } from './sphere-region.ts';
import { reachesOpenSphere, touchedRegion } from './touched-sphere.ts';
import type { Touching } from './touching.ts';

/** The surface of the union, one strut or node at a time; each share is about the origin of the frames. */
export interface UnionSurface {
  readonly frames: Frames;
  readonly cover: Cover;
  /** Some struts overlap without sharing a node, so a section may be cut anywhere and not only near its nodes. */
  readonly crowded: boolean;
  /** Puts everything that may cover a strut into the cover; see `gather` for the angles it returns and the names it gives. */
  gather(strut: number, names?: number[]): number[];
  /** The caps cut from a node's sphere; null when another sphere swallows it. */
  caps(node: number): Cap[] | null;
  /** The struts that cut a node's sphere outside its caps, in curves that are no circles. */
  reaching(node: number, caps: readonly Cap[]): number[];
  /** Adds the exposed lateral surface of a strut, optionally only its part where x . normal >= 0. */
  addStrut(strut: number, out: Moments, normal?: readonly [number, number, number]): void;
  /** Adds the exposed part of a node's sphere, likewise. */
  addNode(node: number, out: Moments, normal?: readonly [number, number, number]): void;
  /** Adds what the solid gains per mm when the radius of a strut alone grows: its exposed lateral surface, as moments; likewise. */
  growStrut(strut: number, out: Moments, normal?: readonly [number, number, number]): void;
  /** Adds what the solid gains per mm when a node's sphere alone grows, likewise. */
  growNode(node: number, out: Moments, normal?: readonly [number, number, number]): void;
}

/** `touching`: struts that overlap without sharing a node (see `findTouching`); left out for a lattice whose struts only meet at nodes. */
export function unionSurface(graph: StrutGraph, origin: readonly [number, number, number] = [0, 0, 0], touching?: Touching): UnionSurface {
  const frames = makeFrames(graph, origin);
  const cover = makeCover(frames);
  const addLateral = makeLateral(frames, cover, 'solid');
  const growLateral = makeLateral(frames, cover, 'growth');
  const gatherAt = (strut: number, names?: number[]) => gather(graph, frames, cover, strut, touching, names);
  const cutting = (node: number) => strutsCutting(graph, frames, node, touching);
  const reaching = (node: number, caps: readonly Cap[]) => cutting(node).filter((strut) => reachesOpenSphere(frames, node, caps, strut));
  const centreOf = (node: number) => frames.nodes.subarray(3 * node, 3 * node + 3);

  function exposed(node: number, normal?: readonly [number, number, number]): RegionMoments | null {
    const caps = capsAt(graph, frames, node, cutting(node));
    if (!caps) return null;
    if (normal) {
      const centre = centreOf(node);
      const cosine = (centre[0] * normal[0] + centre[1] * normal[1] + centre[2] * normal[2]) / frames.nodeRadius[node];
      if (cosine <= -1) return null;
      if (cosine < 1) caps.push({ axis: [-normal[0], -normal[1], -normal[2]], cosine });
    }
    const struts = reaching(node, caps);
    return struts.length > 0 ? touchedRegion(frames, node, caps, struts) : openRegion(caps);
  }

  return {
    frames,
    cover,
    crowded: (touching?.size ?? 0) > 0,
    gather: gatherAt,
    caps: (node) => capsAt(graph, frames, node, cutting(node)),
    reaching,
    addStrut: (strut, out, normal) => addLateral(strut, out, gatherAt(strut), normal),
    addNode: (node, out, normal) => {
      const region = exposed(node, normal);
      if (region) addSphereFlux(centreOf(node), frames.nodeRadius[node], region, out);
    },
    growStrut: (strut, out, normal) => growLateral(strut, out, gatherAt(strut), normal),
    growNode: (node, out, normal) => {
      const region = exposed(node, normal);
      if (region) addSphereGrowth(centreOf(node), frames.nodeRadius[node], region, out);
    },
  };
}

/** Moments of the union and the volume share of every strut and node, all about the frames' origin. */
export interface Union {
  readonly moments: Moments;
  readonly strutVolume: Float64Array;
  readonly nodeVolume: Float64Array;
}

/**
 * Integrates the whole surface. With a symmetry group only one strut and one node of each orbit are integrated: the sum over an orbit is its size
 * times the mean over the group. A share is that of the cone from the origin over the exposed surface, so it may be negative. Cancelled it ends early, and what it returns
 * is of no use.
 */
export function integrateUnion(
  graph: StrutGraph,
  surface: UnionSurface,
  symmetry: GraphSymmetry | null,
  isCancelled: () => boolean = () => false,
): Union {
  const moments = makeMoments();
  const share = makeMoments();
  const representatives = makeMoments();
  const sum = (count: number, orbit: Int32Array | undefined, add: (index: number, out: Moments) => void): Float64Array => {
    const volume = new Float64Array(count);
    const size = orbit ? orbitSizes(orbit) : null;
    for (let k = 0; k < count && !isCancelled(); k++) {
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
