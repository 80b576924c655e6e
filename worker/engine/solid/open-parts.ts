import { falsePosition } from './root.ts';

/** The ends of an interval may lie in the strut's own end discs, inside the nodes' spheres: looked at this share of it away. */
const ASIDE = 1e-9;
/** Roots are narrowed to this value, or to this share of the interval. */
const ROOT = 1e-13;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const GOLDEN_STEPS = 16;

interface Looks {
  readonly places: number[];
  readonly values: number[];
}

/**
 * The parts of [a, b] where a continuous clearance is positive: looks at even steps, searches between them where three looks of one sign turn towards
 * zero and may reach past it, and narrows every change of sign to rounding. `emit` is given each open part in turn.
 */
export function openParts(
  clear: (x: number) => number,
  a: number,
  b: number,
  looks: number,
  emit: (from: number, to: number) => void,
): void {
  const { places, values } = look(clear, a, b, looks);
  let open = values[0] > 0;
  let opened = a;
  for (let k = 1; k < values.length; k++) {
    if (values[k] > 0 === open) continue;
    const root = falsePosition(clear, places[k - 1], values[k - 1], places[k], values[k], ROOT, ROOT * (b - a));
    if (open) emit(opened, root);
    else opened = root;
    open = !open;
  }
  if (open) emit(opened, b);
}

function look(clear: (x: number) => number, a: number, b: number, steps: number): Looks {
  const step = (b - a) / steps;
  const looks: Looks = { places: [a], values: [clear(a + ASIDE * (b - a))] };
  for (let k = 1; k <= steps; k++) {
    const value = clear(k === steps ? b - ASIDE * (b - a) : a + k * step);
    if (k > 1 && mayReachPast(looks.values, value)) search(clear, looks, a + (k - 1) * step, step);
    looks.places.push(a + k * step);
    looks.values.push(value);
  }
  return looks;
}

/** Whether the last look is the nearest to zero of three of one sign, and near enough to reach past it. */
function mayReachPast(values: readonly number[], after: number): boolean {
  const here = values[values.length - 1];
  const before = values[values.length - 2];
  const sign = here > 0 ? 1 : -1;
  if (sign * before < sign * here || sign * after < sign * here || sign * before <= 0 || sign * after <= 0) return false;
  return sign * here <= 2 * Math.max(Math.abs(before - here), Math.abs(after - here));
}

/** Golden-section search for a change of sign around the last look; adds it in order if there is one. */
function search(clear: (x: number) => number, { places, values }: Looks, middle: number, step: number): void {
  const last = places.length - 1;
  const sign = values[last] > 0 ? 1 : -1;
  let low = middle - step;
  let high = middle + step;
  for (let k = 0; k < GOLDEN_STEPS; k++) {
    const p = high - GOLDEN * (high - low);
    const q = low + GOLDEN * (high - low);
    const fp = sign * clear(p);
    const fq = sign * clear(q);
    if (fp < 0 || fq < 0) {
      const place = fp < 0 ? p : q;
      const at = place < middle ? last : last + 1;
      places.splice(at, 0, place);
      values.splice(at, 0, sign * (fp < 0 ? fp : fq));
      return;
    }
    if (fp < fq) high = q;
    else low = p;
  }
}
