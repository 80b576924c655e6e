import type { StrutGraph } from '../lattice/index.ts';
import { triadsOf } from './strut-frame.ts';

/** How far stiffness computed with joint zones may lie from that of the solid, and where joints are outside what was measured. */
export interface JointRange {
  /** Of stiffness, either way, percent. */
  readonly bandPct: number;
  /** Struts shorter than twice their thickest end, by number. */
  readonly stoutStruts: number;
  /** Nodes where two struts stand closer together than 75 degrees. */
  readonly sharpNodes: number;
}

/** Largest miss of a single compliance among joints kept out of the fit whose struts stand 75 degrees apart or more: 8.6 %. */
const BAND = 9;
/** Of the three joints with struts 60 or 72 degrees apart: 29 %, solids being the stiffer. */
const SHARP_BAND = 30;
/** Zones of the two ends meet there, which no joint of the fit shows; a doubled band is a judgement, not a measurement. */
const STOUT_BAND = 18;
const STOUT = 2;
const SHARP_COSINE = Math.cos((75 * Math.PI) / 180) + 1e-9;

/** The band of a lattice is that of its worst joint: what is measured on single compliances does not say how errors cancel in a whole. */
export function jointRange(graph: StrutGraph): JointRange {
  const { strutCount, nodeCount, ends, diameters } = graph;
  const { lengthMm, triads } = triadsOf(graph);
  let stoutStruts = 0;
  const directions: number[][][] = Array.from({ length: nodeCount }, () => []);
  for (let s = 0; s < strutCount; s++) {
    if (lengthMm[s] < STOUT * Math.max(diameters[2 * s], diameters[2 * s + 1])) stoutStruts++;
    for (const [end, sign] of [1, -1].entries()) directions[ends[2 * s + end]].push([0, 1, 2].map((c) => sign * triads[9 * s + c]));
  }
  const sharpNodes = directions.filter(isSharp).length;
  const bandPct = Math.max(BAND, stoutStruts > 0 ? STOUT_BAND : 0, sharpNodes > 0 ? SHARP_BAND : 0);
  return { bandPct, stoutStruts, sharpNodes };
}

const isSharp = (directions: readonly number[][]): boolean =>
  directions.some((a, k) => directions.slice(k + 1).some((b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2] > SHARP_COSINE));
