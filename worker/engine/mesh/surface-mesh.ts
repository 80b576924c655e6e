import type { StrutGraph } from '../lattice/index.ts';
import { findTouching, integrateUnion, unionSurface } from '../solid/index.ts';
import { enclosed } from './enclosed.ts';
import { weldOf } from './facets.ts';
import { type Beyond, type SurfaceMesh, stitched } from './stitched.ts';

/** Share of the chord tolerance by which radii may be off where the graph's own make bodies touch rather than cut each other. */
const OFF = 0.1;
const TRIES = 3;
/** How much wider every further try welds, up to OFF: slivers go. */
const WIDER = 2.5;
/** Shares of the chord tolerance by which vertices are put outside the surface at first: the first with which the mesh closes. */
const OUTSIDE = [0.5, 0.4, 0.6, 0.3, 0];
/** The same beside the share that the first mesh tells. */
const BESIDE = [0, 0.015, -0.015];
/** Shift of the whole surface that is not worth a second mesh, as a share of the chord tolerance. */
const NEAR_ENOUGH = 0.02;

export interface MeshOptions {
  /** Farthest that the mesh may be from the exact surface, mm. */
  readonly chordMm: number;
  /** Exact volume of the union where it is known already, mm3. */
  readonly volumeMm3?: number;
  /** Called every few milliseconds; what it throws ends the mesh. */
  readonly poll?: () => void;
}

/**
 * Watertight, oriented triangle mesh of the union of all struts and node spheres. Vertices lie a little outside the exact surface and flat triangles
 * a little inside, by no more than `chordMm`, so that the mesh keeps the exact volume: the first mesh tells how far out they belong.
 * Answers `beyond` where it cannot be closed; a Boolean of the bodies' meshes then has to do it.
 */
export function surfaceMesh(graph: StrutGraph, { chordMm, volumeMm3, poll = () => {} }: MeshOptions): SurfaceMesh | Beyond {
  const meshAt = (share: number): SurfaceMesh | Beyond => closedMesh(grown(graph, share * chordMm), chordMm, poll);
  const [outside, first] = firstClosed(OUTSIDE, meshAt);
  if ('beyond' in first) return first;
  const exact = volumeMm3 ?? exactVolume(graph, poll);
  const { volume, area } = enclosed(first);
  const shift = (exact - volume) / area / chordMm;
  if (Math.abs(shift) < NEAR_ENOUGH) return first;
  const wanted = BESIDE.map((by) => Math.min(1, Math.max(0, outside + shift + by)));
  const [, second] = firstClosed(wanted, meshAt);
  return 'beyond' in second ? first : second;
}

/** The first mesh that closes, and what it was made with; else the last one tried. */
function firstClosed(shares: readonly number[], meshAt: (share: number) => SurfaceMesh | Beyond): [number, SurfaceMesh | Beyond] {
  let found = meshAt(shares[0]);
  let k = 0;
  while ('beyond' in found && k + 1 < shares.length) found = meshAt(shares[++k]);
  return [shares[k], found];
}

function exactVolume(graph: StrutGraph, poll: () => void): number {
  poll();
  const touching = findTouching(graph);
  poll();
  const surface = unionSurface(graph, [0, 0, 0], touching);
  const polled = () => {
    poll();
    return false;
  };
  return integrateUnion(graph, surface, null, polled).moments[0];
}

function closedMesh(graph: StrutGraph, chordMm: number, poll: () => void): SurfaceMesh | Beyond {
  let weldMm = weldOf(chordMm);
  let found = stitched(graph, { chordMm, weldMm, poll });
  for (let k = 1; k < TRIES && 'beyond' in found; k++) {
    if (k > 1) weldMm = Math.min(WIDER * weldMm, OFF * chordMm);
    found = stitched(inGeneralPosition(graph, OFF * chordMm, k), { chordMm, weldMm, poll });
  }
  return found;
}

/** Every radius larger by `byMm`. */
const grown = (graph: StrutGraph, byMm: number): StrutGraph => ({
  ...graph,
  diameters: graph.diameters.map((d) => d + 2 * byMm),
  nodeRadius: graph.nodeRadius.map((r) => r + byMm),
});

/** Spheres a little larger than their struts, and struts of radii a little apart: nothing is tangent, and no four surfaces meet in a point. */
function inGeneralPosition(graph: StrutGraph, offMm: number, seed: number): StrutGraph {
  const share = (k: number) => (Math.imul(k + 1, 2654435761 + 40503 * seed) >>> 0) / 2 ** 32;
  const diameters = graph.diameters.map((d, end) => d + offMm * (seed > 1 ? share(end >> 1) - 0.5 : 0));
  return { ...graph, diameters, nodeRadius: graph.nodeRadius.map((r, node) => r + offMm * (0.6 + 0.4 * share(node))) };
}
