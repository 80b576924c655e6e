import { type Equilibrium, equilibriumOf, move, type Placement, type Stability, settle, stabilityOf } from '../frame/index.ts';
import type { CompressionHooks, Pressed } from './compression.ts';
import type { CurvePoint } from './compression-curve.ts';
import { type PressPart, pressPart, settleAlike } from './compression-part.ts';
import { extrapolate, type PathPoint } from './compression-path.ts';
import { type Plates, platesOf, steadyGuides } from './compression-plates.ts';
import { jumped, meet, record } from './compression-record.ts';
import { mostDeformed, type PeakStrain } from './compression-strain.ts';
import { touchFinder } from './compression-touch.ts';
import { fibresOf } from './fibres.ts';

/** bottoms-out: struts would pass through one another, or a node meets both plates. */
export type PressEnd = 'bottoms-out' | 'not-converged' | 'cancelled';

/** A part between plates, and what was found on the way. */
export interface Press {
  readonly pressed: Pressed;
  readonly plates: Plates;
  /** Of the whole frame; holds the present placement. */
  readonly equilibrium: Equilibrium;
  /** Finds equilibria as long as the part keeps its symmetry; null where it has none, and once stability is lost. */
  part: PressPart | null;
  readonly fibres: Float64Array;
  touches: ReturnType<typeof touchFinder>;
  readonly curve: (CurvePoint & { readonly energyMJ: number })[];
  /** The last three placements on the path, for a guess at the next. */
  readonly path: PathPoint[];
  peak: PeakStrain | null;
  /** Where stability was lost: found so at a point, or, where the part had jumped before the next, the point before. */
  firstBuckling: (CurvePoint & { readonly strut: number }) | null;
  firstContact: (CurvePoint & { readonly struts: readonly [number, number] }) | null;
  /** Where energy was set free at a held deflection: the part jumped. */
  readonly snaps: (CurvePoint & { readonly freedMJ: number })[];
  end: PressEnd | null;
  /** Stability was lost somewhere: it is looked at in every step. */
  alert: boolean;
  /** What was known where stability was last seen. */
  stable: Mark;
}

/** What a press goes back to. */
interface Mark {
  readonly path: readonly PathPoint[];
  readonly points: number;
  readonly snaps: number;
  readonly peak: PeakStrain | null;
  readonly firstContact: Press['firstContact'];
}

const markOf = ({ path, curve, snaps, peak, firstContact }: Pick<Press, 'path' | 'curve' | 'snaps' | 'peak' | 'firstContact'>): Mark => ({
  path: path.slice(),
  points: curve.length,
  snaps: snaps.length,
  peak,
  firstContact,
});

/** Back to where stability was last seen. */
function goBack(press: Press): void {
  const { path, points, snaps, peak, firstContact } = press.stable;
  press.path.splice(0, press.path.length, ...path);
  press.curve.length = points;
  press.snaps.length = snaps;
  press.peak = peak;
  press.firstContact = firstContact;
}

export function pressOf(pressed: Pressed, poll: () => void = () => {}): Press {
  const { frame, modulusMPa } = pressed;
  poll();
  const plates = platesOf(frame.graph, frame.natural);
  const actions = plates.actionsOn(frame.graph.nodeRadius);
  const equilibrium = equilibriumOf({ frame, actions, guides: steadyGuides(frame.graph), poll });
  poll();
  const part = pressPart(pressed, plates, poll);
  poll();
  const strutOf = Int32Array.from({ length: frame.graph.strutCount }, (_, s) => s);
  const start = {
    curve: [{ deflectionMm: 0, forceN: 0, energyMJ: 0 }],
    path: [{ placement: copyOf(equilibrium.placement), deflectionMm: 0, touching: 0 }],
    peak: null,
    firstContact: null,
    snaps: [],
  };
  return {
    ...start,
    pressed,
    plates,
    equilibrium,
    part,
    fibres: fibresOf(frame, { strutOf }, modulusMPa),
    touches: touchFinder(frame.graph, part?.strutOrbit ?? null),
    firstBuckling: null,
    end: null,
    alert: false,
    stable: markOf(start),
  };
}

/** A step that fails, or in which stability is first lost, is cut in halves this many times. */
const HALVINGS = 4;

/** Where the plates go next, and whether stability is looked at there. */
interface Target {
  readonly deflectionMm: number;
  readonly look: boolean;
}

/** Brings the plates to a deflection, in shorter steps where it must; adds a point of the curve for each. */
export function pressTo(press: Press, { deflectionMm, look }: Target, { isCancelled }: CompressionHooks): void {
  let whole = deflectionMm - last(press.path).deflectionMm;
  let step = whole;
  while (press.end === null && last(press.path).deflectionMm < deflectionMm * (1 - 1e-12)) {
    const next = Math.min(deflectionMm, last(press.path).deflectionMm + step);
    const shortest = step <= whole / 2 ** HALVINGS;
    const outcome = attempt(press, { deflectionMm: next, look: look || press.alert }, { isCancelled, shortest });
    if (outcome === 'reached') continue;
    if (outcome === 'unstable') {
      // Stability may have been lost at any point since it was last looked at.
      if (!press.alert) {
        takeWhole(press);
        goBack(press);
        whole = step = deflectionMm - last(press.path).deflectionMm;
      }
      press.alert = true;
    }
    restore(press);
    if (outcome === 'cancelled') press.end = 'cancelled';
    else if (!shortest) step /= 2;
    else press.end = 'not-converged';
  }
}

/** One step; `shortest`: where stability is lost is not looked for more closely. */
function attempt(
  press: Press,
  { deflectionMm, look }: Target,
  { isCancelled, shortest }: { isCancelled?: () => boolean; shortest: boolean },
): 'reached' | 'unstable' | 'not-converged' | 'cancelled' {
  const { equilibrium, plates, path } = press;
  plates.deflectionMm = deflectionMm;
  extrapolate(path, deflectionMm, equilibrium.placement);
  let settled = press.part ? settleAlike(press.part, equilibrium.placement, isCancelled) : settle(equilibrium, isCancelled);
  if (settled.kind !== 'settled') return settled.kind;
  // What jumps may leave its symmetry.
  if (press.part && jumped(press, plates.read(equilibrium.placement.positions).forceN, settled.energy)) return 'unstable';
  const stability: Stability = look ? stabilityOf(equilibrium, isCancelled) : { kind: 'stable' };
  if (isCancelled?.()) return 'cancelled';
  if (stability.kind === 'unstable') {
    if (press.firstBuckling === null && !(press.alert && shortest)) return 'unstable';
    press.firstBuckling ??= bucklingOf(press, stability.mode);
    settled = leave(equilibrium, stability.mode, isCancelled);
    if (settled.kind !== 'settled') return settled.kind;
  }
  record(press, settled.energy);
  equilibrium.poll();
  if (look) meet(press);
  equilibrium.poll();
  if (path.length > 2) path.shift();
  const { below, above } = plates.read(equilibrium.placement.positions);
  path.push({ placement: copyOf(equilibrium.placement), deflectionMm, touching: below + above });
  if (look) press.stable = markOf(press);
  return 'reached';
}

/** The buckling of the present equilibrium: the strut that its mode deforms most. */
function bucklingOf({ equilibrium: { placement, lengthMm }, plates, pressed }: Press, mode: Float64Array) {
  const moved = copyOf(placement);
  move(placement, mode, lengthMm / (1e3 * largest(mode)), moved);
  const { forceN } = plates.read(placement.positions);
  return { deflectionMm: plates.deflectionMm, forceN, strut: mostDeformed(pressed.frame, placement, moved) };
}

/** From an unstable equilibrium down to a stable one, along the mode in which the energy falls. */
function leave(equilibrium: Equilibrium, mode: Float64Array, isCancelled?: () => boolean) {
  const { placement } = equilibrium;
  const kicked = copyOf(placement);
  move(placement, mode, (0.02 * equilibrium.lengthMm) / largest(mode), kicked);
  placement.positions.set(kicked.positions);
  placement.rotations.set(kicked.rotations);
  return settle(equilibrium, isCancelled);
}

/** From here on the whole frame is computed: what buckles does not keep its symmetry. */
function takeWhole(press: Press): void {
  if (!press.part) return;
  press.part = null;
  press.touches = touchFinder(press.pressed.frame.graph, null);
}

/** Back to the last placement on the path. */
function restore({ equilibrium: { placement }, plates, path }: Press): void {
  const { placement: kept, deflectionMm } = last(path);
  placement.positions.set(kept.positions);
  placement.rotations.set(kept.rotations);
  plates.deflectionMm = deflectionMm;
}

const copyOf = ({ positions, rotations }: Placement): Placement => ({ positions: positions.slice(), rotations: rotations.slice() });
const largest = (mode: Float64Array) => mode.reduce((most, each, k) => (k % 6 < 3 ? Math.max(most, Math.abs(each)) : most), 1e-300);
const last = <T>(list: readonly T[]): T => list[list.length - 1];
