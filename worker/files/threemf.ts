import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { type BuildPart, inFirstOctant, meshThreeMf, type StrutGraph, type SurfaceMesh, threeMf } from '../engine/index.ts';

const Application = `strutwright ${ENGINE_VERSION}`;

/** One lattice as printers' software reads it, media type model/3mf. It tells no date: the same lattice is the same file. */
export const latticeThreeMf = (graph: StrutGraph): Uint8Array =>
  threeMf([{ graph, name: 'lattice', placements: [inFirstOctant(graph)] }], {
    Title: 'Strut lattice',
    Application,
  });

/** Its surface alone. */
export const surfaceThreeMf = (mesh: SurfaceMesh, poll?: () => void): Uint8Array =>
  meshThreeMf(mesh, 'lattice', { Title: 'Strut lattice, as triangles', Application }, poll);

/** A whole tray, every part at its place in the chamber and scaled by what it shrinks. */
export const trayThreeMf = (parts: readonly BuildPart[]): Uint8Array => threeMf(parts, { Title: 'Tray of strut lattices', Application });
