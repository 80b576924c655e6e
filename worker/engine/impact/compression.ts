import { pressOf, pressTo } from './compression-press.ts';
import { type CompressionReport, reportOf } from './compression-report.ts';
import { partsOf } from './connected.ts';
import type { ElasticFrame } from './model.ts';
import type { Relaxation } from './relaxation.ts';

/** The part that is pressed: natural stiffness of the frame at the modulus of slow loading; relaxation, where known, for the loop. */
export interface Pressed {
  readonly frame: ElasticFrame;
  readonly modulusMPa: number;
  readonly relaxation: Relaxation | null;
  /** A group of rotations (matrices, row-major, 9 each) of which some may leave the part between its plates as it is: that takes less work. */
  readonly rotations?: Float64Array;
}

export interface CompressionTest {
  /** What the percentages are of. */
  readonly outsideDiameterMm: number;
  readonly toPctOfDiameter: number;
  readonly secantAtPct: number;
  /** Speed of loading and unloading for the loop, mm/s; default 1. */
  readonly speedMmS?: number;
}

export interface CompressionHooks {
  /** Asked every few milliseconds. */
  isCancelled?(): boolean;
  /** Share of the deflection that is done, 0 to 1. */
  onProgress?(share: number): void;
  /** Called every few milliseconds where nothing can be kept of what is under way; may throw. */
  poll?(): void;
}

export type CompressionOutcome = CompressionReport | { readonly kind: 'disconnected'; readonly parts: number; readonly message: string };

/** Deflections at which the first percent is found, and the longest step from there on, percent of the diameter. */
const FIRST_PERCENT = [0.25, 0.5, 0.75, 1];
const LONGEST_STEP = 1.5;
/** Stability is looked at in every second point, and, where it is lost, in all from the last stable one. */
const LOOK_EVERY = 2;

/**
 * Slow compression between two rigid, parallel, frictionless plates along z, from where both just touch: at each deflection the frame's equilibrium under
 * large rotation, found as a minimum of its energy, so it goes down through snaps. The part keeps its direction (see `steadyGuides`). An end short of
 * the deflection asked for is told with the numbers so far. As long as it is stable, a part keeps its symmetry about z.
 */
export function compress(pressed: Pressed, test: CompressionTest, hooks: CompressionHooks = {}): CompressionOutcome {
  const parts = partsOf(pressed.frame.graph);
  if (parts > 1) return { kind: 'disconnected', parts, message: `The lattice is in ${parts} separate parts; only one can be compressed.` };
  const press = pressOf(pressed, hooks.poll);
  const points = scheduleOf(test);
  points.forEach((pct, k) => {
    const look = pct >= 1 && (points.length - 1 - k) % LOOK_EVERY === 0;
    if (press.end === null) pressTo(press, { deflectionMm: (pct / 100) * test.outsideDiameterMm, look }, hooks);
    hooks.onProgress?.(pct / test.toPctOfDiameter);
  });
  return reportOf(press, pressed, test);
}

/** Deflections in percent, increasing, those of the secant and the end among them. */
function scheduleOf({ toPctOfDiameter, secantAtPct }: CompressionTest): number[] {
  const first = FIRST_PERCENT.map((pct) => pct * Math.min(1, toPctOfDiameter));
  const marks = [...new Set([...first, secantAtPct, toPctOfDiameter])].filter((pct) => pct <= toPctOfDiameter).sort((a, b) => a - b);
  return marks.flatMap((pct, k) => {
    const from = k === 0 ? 0 : marks[k - 1];
    const steps = Math.ceil((pct - from) / LONGEST_STEP - 1e-9);
    return Array.from({ length: steps }, (_, step) => from + ((step + 1) / steps) * (pct - from));
  });
}
