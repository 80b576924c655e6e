import { falsePosition } from './root.ts';

/** Widest step (radians) between looks, and the fewest looks on an arc. */
const STEP = 0.1;
const LEAST = 12;
/** The ends of an arc lie in the strut's own end discs, inside the nodes' spheres: looked at this share of the arc away. */
const ASIDE = 1e-9;
/** Roots are narrowed to this clearance, or to this share of the arc: on a level strut the whole arc is some 1e-6 wide. */
const ROOT = 1e-12;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const GOLDEN_STEPS = 16;

/** A function of an angle by its cosine and sine, negative where something covers. */
export type Clearance = (cosine: number, sine: number) => number;

/**
 * Finder of the parts of an arc [a, b] where a continuous clearance is positive: looks at even steps, searches between them where three looks of
 * one sign turn towards zero and may reach past it, and narrows every change of sign to rounding. `emit` is given each open part in turn.
 */
export function makeOpenArcs(): (clear: Clearance, a: number, b: number, emit: (from: number, to: number) => void) => void {
  const angles: number[] = [];
  const values: number[] = [];

  return (clear, a, b, emit) => {
    const at = (angle: number) => clear(Math.cos(angle), Math.sin(angle));
    look(clear, at, a, b);
    let open = values[0] > 0;
    let opened = a;
    for (let k = 1; k < values.length; k++) {
      if (values[k] > 0 === open) continue;
      const root = falsePosition(at, angles[k - 1], values[k - 1], angles[k], values[k], ROOT, ROOT * (b - a));
      if (open) emit(opened, root);
      else opened = root;
      open = !open;
    }
    if (open) emit(opened, b);
  };

  function look(clear: Clearance, at: (angle: number) => number, a: number, b: number): void {
    const steps = Math.max(LEAST, Math.ceil((b - a) / STEP));
    const step = (b - a) / steps;
    const turnCosine = Math.cos(step);
    const turnSine = Math.sin(step);
    let cosine = Math.cos(a);
    let sine = Math.sin(a);
    angles.length = 0;
    values.length = 0;
    angles.push(a);
    values.push(at(a + ASIDE * (b - a)));
    for (let k = 1; k <= steps; k++) {
      const next = cosine * turnCosine - sine * turnSine;
      sine = sine * turnCosine + cosine * turnSine;
      cosine = next;
      const value = k === steps ? at(b - ASIDE * (b - a)) : clear(cosine, sine);
      if (k > 1 && mayReachPast(value)) search(at, a + (k - 1) * step, step);
      angles.push(a + k * step);
      values.push(value);
    }
  }

  /** Whether the last look is the nearest to zero of three of one sign, and near enough to reach past it. */
  function mayReachPast(after: number): boolean {
    const here = values[values.length - 1];
    const before = values[values.length - 2];
    const sign = here > 0 ? 1 : -1;
    if (sign * before < sign * here || sign * after < sign * here || sign * before <= 0 || sign * after <= 0) return false;
    return sign * here <= 2 * Math.max(Math.abs(before - here), Math.abs(after - here));
  }

  /** Golden-section search for a change of sign around the last look; adds it in order if there is one. */
  function search(at: (angle: number) => number, middle: number, step: number): void {
    const last = angles.length - 1;
    const sign = values[last] > 0 ? 1 : -1;
    let low = middle - step;
    let high = middle + step;
    for (let k = 0; k < GOLDEN_STEPS; k++) {
      const p = high - GOLDEN * (high - low);
      const q = low + GOLDEN * (high - low);
      const fp = sign * at(p);
      const fq = sign * at(q);
      if (fp < 0 || fq < 0) {
        const angle = fp < 0 ? p : q;
        const place = angle < middle ? last : last + 1;
        angles.splice(place, 0, angle);
        values.splice(place, 0, sign * (fp < 0 ? fp : fq));
        return;
      }
      if (fp < fq) high = q;
      else low = p;
    }
  }
}
