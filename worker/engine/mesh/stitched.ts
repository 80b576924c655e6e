import type { StrutGraph } from '../lattice/index.ts';
import { findTouching, unionSurface } from '../solid/index.ts';
import { drawCurves } from './curves.ts';
import { openEdges } from './open-edges.ts';
import { makeOutliner, type Outline, type Piece } from './outline.ts';
import { addSpherePatch } from './sphere-patch.ts';
import { strutPatch } from './strut-patch.ts';

/** A closed surface of triangles: vertices 3 each, mm; triangles 3 vertex numbers each, their front outwards. */
export interface SurfaceMesh {
  readonly xyz: Float64Array;
  readonly triangles: Uint32Array;
  /** Strut (>= 0) or node (-1 - node) that each triangle lies on. */
  readonly owner: Int32Array;
}

/** The nodes round which the stitched mesh would not be closed. */
export interface Beyond {
  readonly beyond: readonly number[];
}

interface Stitching {
  readonly chordMm: number;
  readonly weldMm: number;
  readonly poll: () => void;
}

/**
 * Surface of a union, stitched: every strut's exposed part between the curves where it meets other bodies, every node's exposed part of its sphere.
 * Vertices lie on the exact surface (within `weldMm`, which joins corners that lie closer), flat triangles within `chordMm` of it. `beyond` where that does not close.
 */
export function stitched(graph: StrutGraph, { chordMm, weldMm, poll }: Stitching): SurfaceMesh | Beyond {
  const touching = findTouching(graph);
  poll();
  const surface = unionSurface(graph, [0, 0, 0], touching);
  const { data, nodes, nodeRadius } = surface.frames;
  const xyz: number[] = [];
  const beyond = new Set<number>();
  const doubt = (strut: number) => beyond.add(graph.ends[2 * strut]).add(graph.ends[2 * strut + 1]);
  const outlineOf = makeOutliner(graph, surface, weldMm);
  const outlines = Array.from({ length: graph.strutCount }, (_, s): Outline => {
    poll();
    const outline = outlineOf(s);
    if (!outline) doubt(s);
    return outline ?? { round: true, columns: [] };
  });
  const curves = drawCurves(outlines, { surface, chordMm, weldMm, xyz, poll });
  for (const strut of curves.lost) doubt(strut);
  if (beyond.size > 0) return { beyond: [...beyond] };

  const triangles: number[] = [];
  const owner: number[] = [];
  const own = (body: number) => {
    while (owner.length < triangles.length / 3) owner.push(body);
  };
  const rims = new Map<number, [number, number][]>();
  for (let s = 0; s < graph.strutCount; s++) {
    poll();
    for (const piece of outlines[s].columns.flat(2).flat()) addRim(piece);
    for (const corners of strutPatch(s, outlines[s], curves, data, xyz)) triangles.push(...corners);
    own(s);
  }
  for (let v = 0; v < graph.nodeCount; v++) {
    poll();
    const caps = surface.caps(v);
    const edges = rims.get(v) ?? [];
    if (edges.length === 0) continue;
    const sphere = { centre: Array.from(nodes.subarray(3 * v, 3 * v + 3)), radius: nodeRadius[v] };
    if (!caps || addSpherePatch(sphere, { caps, edges, chordMm, xyz, out: triangles }) === 'beyond') beyond.add(v);
    own(-1 - v);
  }
  poll();
  const mesh = { xyz: Float64Array.from(xyz), triangles: Uint32Array.from(triangles), owner: Int32Array.from(owner) };
  poll();
  for (const triangle of openEdges(mesh.triangles, xyz.length / 3)) {
    const body = owner[triangle];
    if (body < 0) beyond.add(-1 - body);
    else doubt(body);
  }
  return beyond.size > 0 ? { beyond: [...beyond] } : mesh;

  /** A piece's edges seen from the sphere that it borders on: the sphere on their left. */
  function addRim(piece: Piece): void {
    const { partner } = piece;
    if (partner >= 0) return;
    const curve = curves.vertices.get(piece)!;
    const rim = rims.get(-1 - partner) ?? [];
    rims.set(-1 - partner, rim);
    for (let k = 1; k < curve.length; k++) rim.push(piece.side === 0 ? [curve[k], curve[k - 1]] : [curve[k - 1], curve[k]]);
  }
}
