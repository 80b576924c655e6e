import type { StrutGraph } from '../lattice/index.ts';
import { decimal, positiveDecimal, STEP_MM } from './xml-text.ts';

/** A strut as it is written: vertices and radii (mm) at both ends. */
interface Beam {
  readonly v1: number;
  readonly v2: number;
  readonly r1: string;
  readonly r2: string;
}

interface Ball {
  readonly vertex: number;
  readonly r: string;
}

/** A graph as 3MF has it: everything rounded to STEP_MM, what rounds to one place being one vertex. */
export interface BeamLattice {
  /** x, y, z of each vertex, mm. */
  readonly vertices: readonly (readonly [string, string, string])[];
  readonly beams: readonly Beam[];
  /** Spheres at vertices that are larger than every beam's end there. */
  readonly balls: readonly Ball[];
  /** true: every vertex that a beam ends at has a ball. */
  readonly ballsEverywhere: boolean;
}

/**
 * The beam lattice (3MF Beam Lattice Extension 1.2.0) whose solid is the graph's: beams are frusta with a sphere on each end, so a node needs a
 * ball only where its sphere is larger than those. Struts whose ends round to one place are left out; their spheres stay.
 */
export function beamLatticeOf(graph: StrutGraph): BeamLattice {
  const { vertices, vertexOf } = weld(graph);
  const beams: Beam[] = [];
  const reach = new Float64Array(vertices.length);
  for (let s = 0; s < graph.strutCount; s++) {
    const [v1, v2] = [vertexOf[graph.ends[2 * s]], vertexOf[graph.ends[2 * s + 1]]];
    if (v1 === v2) continue;
    const [r1, r2] = [positiveDecimal(graph.diameters[2 * s] / 2), positiveDecimal(graph.diameters[2 * s + 1] / 2)];
    beams.push({ v1, v2, r1, r2 });
    reach[v1] = Math.max(reach[v1], Number(r1));
    reach[v2] = Math.max(reach[v2], Number(r2));
  }
  const balls = ballsOf(graph, vertexOf, reach);
  return { vertices, beams, balls, ballsEverywhere: balls.length === reach.filter((r) => r > 0).length };
}

/** Vertices in order of the nodes, and the one that each node is. */
function weld({ nodeCount, xyz }: StrutGraph): { vertices: [string, string, string][]; vertexOf: Int32Array } {
  const vertices: [string, string, string][] = [];
  const known = new Map<string, number>();
  const vertexOf = Int32Array.from({ length: nodeCount }, (_, node) => {
    const place: [string, string, string] = [decimal(xyz[3 * node]), decimal(xyz[3 * node + 1]), decimal(xyz[3 * node + 2])];
    const key = place.join(' ');
    const found = known.get(key) ?? vertices.push(place) - 1;
    known.set(key, found);
    return found;
  });
  return { vertices, vertexOf };
}

function ballsOf({ nodeCount, nodeRadius }: StrutGraph, vertexOf: Int32Array, reach: Float64Array): Ball[] {
  const largest = new Float64Array(reach.length);
  for (let node = 0; node < nodeCount; node++) largest[vertexOf[node]] = Math.max(largest[vertexOf[node]], nodeRadius[node]);
  const balls: Ball[] = [];
  for (let vertex = 0; vertex < reach.length; vertex++) {
    const r = positiveDecimal(largest[vertex]);
    // A ball must lie at an end of a beam.
    if (reach[vertex] > 0 && Number(r) > reach[vertex]) balls.push({ vertex, r });
  }
  return balls;
}

/** Nothing between two vertices is shorter, so no reader leaves a beam out. */
const MIN_LENGTH = (STEP_MM / 2).toFixed(7);

/** The `mesh` of an object, without triangles. Prefixes: b for the beam lattice namespace, b2 for that of balls. Its lines. */
export function meshXml({ vertices, beams, balls, ballsEverywhere }: BeamLattice): string[] {
  const cylinders = beams.filter(({ r1, r2 }) => r1 === r2);
  const radius = mostCommon((cylinders.length > 0 ? cylinders : beams).map(({ r1 }) => r1));
  // The least, because there are readers that take the larger of this and a ball's own.
  const ballRadius = balls.length > 0 ? balls.reduce((least, { r }) => (Number(r) < Number(least) ? r : least), balls[0].r) : null;
  const ballMode = ballRadius === null ? '' : ` b2:ballmode="${ballsEverywhere ? 'all' : 'mixed'}" b2:ballradius="${ballRadius}"`;
  const listed = balls.filter(({ r }) => !ballsEverywhere || r !== ballRadius);
  return [
    '<mesh>',
    '<vertices>',
    ...vertices.map(([x, y, z]) => `<vertex x="${x}" y="${y}" z="${z}"/>`),
    '</vertices>',
    `<b:beamlattice minlength="${MIN_LENGTH}" radius="${radius}" cap="sphere"${ballMode}>`,
    '<b:beams>',
    ...beams.map(({ v1, v2, r1, r2 }) => `<b:beam v1="${v1}" v2="${v2}"${radii(r1, r2, radius)}/>`),
    '</b:beams>',
    ...(listed.length > 0 ? ['<b2:balls>', ...listed.map((ball) => ballXml(ball, ballRadius)), '</b2:balls>'] : []),
    '</b:beamlattice>',
    '</mesh>',
  ];
}

/** r2 only beside r1, and each only where it is not what a reader would take anyway. */
function radii(r1: string, r2: string, radius: string): string {
  if (r1 !== r2) return ` r1="${r1}" r2="${r2}"`;
  return r1 === radius ? '' : ` r1="${r1}"`;
}

const ballXml = ({ vertex, r }: Ball, ballRadius: string | null): string =>
  `<b2:ball vindex="${vertex}"${r === ballRadius ? '' : ` r="${r}"`}/>`;

/** The text that occurs most; of equals the first. The list is not empty. */
function mostCommon(texts: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  let best = texts[0];
  for (const [text, count] of counts) if (count > counts.get(best)!) best = text;
  return best;
}
