import { type Cover, type Exposure, makeExposure } from './cover.ts';

/** Directions at which the pattern of exposed stretches is sampled to find where it changes. */
const SAMPLES = 40;
/** Bisection of a change of pattern ends at this width (radians): the kink's share of the integral is then below 1e-10. */
const NARROW = 3e-7;
/** The pattern is checked this far on both sides of a located switch. */
const BESIDE = 1e-7;

/**
 * Finder of the angles at which the pattern of exposed stretches along a strut changes (which bodies end them, and how many there are),
 * ascending within [0, 2 pi). Between them every end is one smooth function of the angle.
 */
export function makeBreakFinder(cover: Cover): () => readonly number[] {
  const found: number[] = [];
  const samples = [makeExposure(), makeExposure()];
  const probe = makeExposure();

  function find(): readonly number[] {
    found.length = 0;
    const step = (2 * Math.PI) / SAMPLES;
    cover.expose(1, 0, samples[0]);
    for (let k = 0; k < SAMPLES; k++) {
      const [before, after] = k % 2 === 0 ? samples : [samples[1], samples[0]];
      look((k + 1) * step, after);
      locate(k * step, (k + 1) * step, before, after);
    }
    return found;
  }

  function look(angle: number, out: Exposure): void {
    cover.expose(Math.cos(angle), Math.sin(angle), out);
  }

  function locate(a: number, b: number, before: Exposure, after: Exposure): void {
    if (samePattern(before, after)) return;
    const at = switchAngle(a, b, before, after);
    if (at !== null) {
      found.push(at);
    } else if (b - a < NARROW) {
      found.push((a + b) / 2);
    } else {
      const middle = makeExposure(before.from.length);
      look((a + b) / 2, middle);
      locate(a, (a + b) / 2, before, middle);
      locate((a + b) / 2, b, middle, after);
    }
  }

  /** Where one end of one stretch passes from one body to another, both known: the root of the difference of the two ends. */
  function switchAngle(a: number, b: number, before: Exposure, after: Exposure): number | null {
    const codes = onlyDifference(before, after);
    if (!codes) return null;
    const root = illinois((angle) => cover.limit(codes[0], Math.cos(angle), Math.sin(angle)) - cover.limit(codes[1], Math.cos(angle), Math.sin(angle)), a, b);
    if (root === null) return null;
    look(Math.max(a, root - BESIDE), probe);
    if (!samePattern(before, probe)) return null;
    look(Math.min(b, root + BESIDE), probe);
    return samePattern(after, probe) ? root : null;
  }

  return find;
}

function samePattern(a: Exposure, b: Exposure): boolean {
  if (a.count !== b.count) return false;
  for (let k = 0; k < a.count; k++) if (a.fromCode[k] !== b.fromCode[k] || a.toCode[k] !== b.toCode[k]) return false;
  return true;
}

function onlyDifference(a: Exposure, b: Exposure): [number, number] | null {
  if (a.count !== b.count) return null;
  let codes: [number, number] | null = null;
  for (let k = 0; k < a.count; k++) {
    for (const [p, q] of [
      [a.fromCode[k], b.fromCode[k]],
      [a.toCode[k], b.toCode[k]],
    ]) {
      if (p === q) continue;
      if (codes) return null;
      codes = [p, q];
    }
  }
  return codes;
}

/** Root of f in [a, b] by false position with the Illinois correction (Dowell and Jarratt 1971); null without a change of sign. */
function illinois(f: (x: number) => number, a: number, b: number): number | null {
  let [fa, fb] = [f(a), f(b)];
  if (!(fa * fb <= 0)) return null;
  for (let k = 0; k < 40 && b - a > 1e-14; k++) {
    const x = fa === fb ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
    const fx = f(x);
    if (Number.isNaN(fx)) return null;
    if (Math.abs(fx) < 1e-13) return x;
    if (fx * fb < 0) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [x, fx];
  }
  return b;
}
