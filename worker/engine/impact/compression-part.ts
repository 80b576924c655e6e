import {
  type Equilibrium,
  equilibriumOf,
  foldOf,
  type Placement,
  placeGhosts,
  placeImage,
  type Settled,
  settle,
  symmetrise,
} from '../frame/index.ts';
import type { Pressed } from './compression.ts';
import { type Plates, steadyGuides } from './compression-plates.ts';
import { orbitPart } from './orbit-part.ts';
import { type SelfMap, stabiliser } from './stabiliser.ts';

/** The part of a pressed frame that tells all of it while the frame keeps its symmetry about the axis of the plates. */
export interface PressPart {
  readonly equilibrium: Equilibrium;
  readonly maps: readonly SelfMap[];
  /** Node of the whole for each computed one. */
  readonly nodes: Int32Array;
  /** Lowest strut of each strut's orbit. */
  readonly strutOrbit: Int32Array;
}

/** Null where nothing repeats. Between plates along z up and down are alike, so maps may turn z about. */
export function pressPart({ frame, rotations }: Pressed, plates: Plates, poll?: () => void): PressPart | null {
  const maps = rotations ? stabiliser(frame, rotations, [0, 0, 1], true) : [];
  poll?.();
  if (maps.length < 2) return null;
  const { graph } = frame;
  const { nodes, struts, ends, ghosts, fixed, nodeShare, strutShare } = orbitPart(graph, maps);
  const fold = foldOf(
    nodes.length,
    ghosts.map(({ of, map }) => ({ of, matrix: maps[map].matrix })),
    fixed.map(({ node, maps: kept }) => ({ node, matrices: kept.map((map) => maps[map].matrix) })),
  );
  const start = placementOf(nodes.length + ghosts.length);
  nodes.forEach((node, k) => start.positions.set(graph.xyz.subarray(3 * node, 3 * node + 3), 3 * k));
  placeGhosts(fold, start);
  const rows = (numbers: Float64Array, length: number, share?: Float64Array) =>
    Float64Array.from({ length: length * struts.length }, (_, k) => {
      const s = Math.floor(k / length);
      return numbers[length * struts[s] + (k % length)] * (share?.[s] ?? 1);
    });
  const nodeMaps = { maps, nodes, nodeShare };
  const equilibrium = equilibriumOf({
    guides: independent(steadyGuides(graph).map((row) => foldedRow(row, nodeMaps))),
    frame: {
      graph: { nodeCount: nodes.length + ghosts.length, xyz: start.positions, ends },
      lengthMm: rows(frame.lengthMm, 1),
      triads: rows(frame.triads, 9),
      natural: rows(frame.natural, 12, strutShare),
    },
    actions: plates.actionsOn(
      Float64Array.from(nodes, (node) => graph.nodeRadius[node]),
      nodeShare,
    ),
    fold,
    poll,
  });
  const strutOrbit = Int32Array.from({ length: graph.strutCount }, (_, s) => Math.min(...maps.map((map) => map.struts[s])));
  return { equilibrium, maps, nodes, strutOrbit };
}

/** A linear condition on the moves of the whole, as one on those of the part: what it says of each node and its images, brought back to the node. */
function foldedRow(row: Float64Array, { maps, nodes, nodeShare }: Pick<PressPart, 'maps' | 'nodes'> & { nodeShare: Float64Array }) {
  const folded = new Float64Array(6 * nodes.length);
  for (const { matrix, nodes: images } of maps)
    nodes.forEach((node, k) => {
      const at = 6 * images[node];
      for (let j = 0; j < 3; j++)
        folded[6 * k + j] += nodeShare[k] * (matrix[j] * row[at] + matrix[3 + j] * row[at + 1] + matrix[6 + j] * row[at + 2]);
    });
  return folded;
}

/** Rows less what the rows before say already, unit length each; those that say nothing new are left out (Gram and Schmidt, twice for rounding). */
function independent(rows: readonly Float64Array[]): Float64Array[] {
  const kept: Float64Array[] = [];
  for (const row of rows) {
    const before = size(row);
    for (const each of [...kept, ...kept]) {
      const share = each.reduce((sum, x, k) => sum + x * row[k], 0);
      each.forEach((x, k) => (row[k] -= share * x));
    }
    const left = size(row);
    if (left > NOTHING_NEW * Math.max(before, 1)) kept.push(row.map((x) => x / left));
  }
  return kept;
}
/** Of rows that are sums over nodes, rounding leaves less. */
const NOTHING_NEW = 1e-9;
const size = (row: Float64Array) => Math.sqrt(row.reduce((sum, x) => sum + x * x, 0));

function placementOf(places: number): Placement {
  const rotations = new Float64Array(9 * places);
  for (let k = 0; k < rotations.length; k += 9) rotations[k] = rotations[k + 4] = rotations[k + 8] = 1;
  return { positions: new Float64Array(3 * places), rotations };
}

/** `settle` of the whole frame, from a placement that has the symmetry, which is moved to the equilibrium; energy of the whole. */
export function settleAlike({ equilibrium, maps, nodes }: PressPart, whole: Placement, isCancelled?: () => boolean): Settled {
  const { placement, fold } = equilibrium;
  nodes.forEach((node, k) => {
    placement.positions.set(whole.positions.subarray(3 * node, 3 * node + 3), 3 * k);
    placement.rotations.set(whole.rotations.subarray(9 * node, 9 * node + 9), 9 * k);
  });
  if (fold) symmetrise(fold, placement);
  // A new factor of so small a part costs little, and leaves little to be found by rounds.
  equilibrium.guide = null;
  const settled = settle(equilibrium, isCancelled);
  for (const { matrix, nodes: images } of maps) nodes.forEach((node, k) => placeImage(placement, k, matrix, matrix, whole, images[node]));
  return settled.kind === 'settled' ? { ...settled, energy: maps.length * settled.energy } : settled;
}
