import { type Cover, type Exposure, makeExposure } from './cover.ts';
import { falsePosition } from './root.ts';

/** Directions at which the pattern of exposed stretches is sampled to find where it changes. */
const SAMPLES = 40;
const STEP = (2 * Math.PI) / SAMPLES;
/** Where no single event explains a change it is bisected, to this width (radians) at the finest. */
const NARROW = 1e-9;
const LEVELS = 40;
/** A root is good to this, mm of the ends' distance (mm2 of a discriminant): what rounding leaves of coordinates of 100 mm. */
const ROOT = 1e-13;
/** The pattern is checked this far on both sides of a located event. */
const BESIDE = 1e-8;

/**
 * Finder of the angles at which the pattern of exposed stretches along a strut changes (which bodies end them, and how many there are),
 * ascending within [0, 2 pi). Between them every end is one smooth function of the angle. `hints` are angles to sample besides the even ones,
 * where a pattern may show in a window too narrow to be met by chance.
 */
export function makeBreakFinder(cover: Cover): (hints?: readonly number[]) => readonly number[] {
  const found: number[] = [];
  const cosines = Float64Array.from({ length: SAMPLES }, (_, k) => Math.cos(k * STEP));
  const sines = Float64Array.from({ length: SAMPLES }, (_, k) => Math.sin(k * STEP));
  const levels = Array.from({ length: LEVELS }, () => makeExposure());
  const [first, second, probe] = [makeExposure(), makeExposure(), makeExposure()];

  function find(hints: readonly number[] = []): readonly number[] {
    found.length = 0;
    let before = first;
    let after = second;
    let from = 0;
    const meet = (to: number, cosine: number, sine: number) => {
      cover.expose(cosine, sine, after);
      if (!samePattern(before, after)) locate(from, to, before, after, 0);
      from = to;
      [before, after] = [after, before];
    };
    const extra = hints.map((angle) => (angle + 4 * Math.PI) % (2 * Math.PI)).sort((a, b) => a - b);
    let next = 0;
    cover.expose(1, 0, before);
    for (let k = 1; k <= SAMPLES; k++) {
      for (; extra[next] < k * STEP; next++) meet(extra[next], Math.cos(extra[next]), Math.sin(extra[next]));
      meet(k * STEP, cosines[k % SAMPLES], sines[k % SAMPLES]);
    }
    return found;
  }

  function look(angle: number, out: Exposure): void {
    cover.expose(Math.cos(angle), Math.sin(angle), out);
  }

  function locate(a: number, b: number, before: Exposure, after: Exposure, level: number): void {
    if (samePattern(before, after)) return;
    const at = eventAngle(a, b, before, after);
    if (at !== null) {
      found.push(at);
    } else if (b - a < NARROW || level === LEVELS) {
      found.push((a + b) / 2);
    } else {
      const middle = levels[level];
      look((a + b) / 2, middle);
      locate(a, (a + b) / 2, before, middle, level + 1);
      locate((a + b) / 2, b, middle, after, level + 1);
    }
  }

  /** The root of the one function that explains the change, if there is one and the pattern changes nowhere else. */
  function eventAngle(a: number, b: number, before: Exposure, after: Exposure): number | null {
    const event = eventBetween(before, after);
    if (!event) return null;
    const value = (angle: number) => event(cover, Math.cos(angle), Math.sin(angle));
    const [atA, atB] = [value(a), value(b)];
    if (!(atA * atB <= 0)) return null;
    const root = falsePosition(value, a, atA, b, atB, ROOT, 1e-14);
    if (Number.isNaN(root)) return null;
    if (root - BESIDE > a) {
      look(root - BESIDE, probe);
      if (!samePattern(before, probe)) return null;
    }
    if (root + BESIDE < b) {
      look(root + BESIDE, probe);
      if (!samePattern(after, probe)) return null;
    }
    return root;
  }

  return find;
}

function samePattern(a: Exposure, b: Exposure): boolean {
  if (a.count !== b.count) return false;
  for (let k = 0; k < a.count; k++) if (a.fromCode[k] !== b.fromCode[k] || a.toCode[k] !== b.toCode[k]) return false;
  return true;
}

type Event = (cover: Cover, cosine: number, sine: number) => number;
const difference =
  (p: number, q: number): Event =>
  (cover, cosine, sine) =>
    cover.limit(p, cosine, sine) - cover.limit(q, cosine, sine);

/** The function that passes through zero when one pattern turns into the other by a single event; null when it takes more than one. */
function eventBetween(before: Exposure, after: Exposure): Event | null {
  if (before.count === after.count) return passage(before, after);
  const [more, fewer] = before.count > after.count ? [before, after] : [after, before];
  return more.count === fewer.count + 1 ? stretchLost(more, fewer) : null;
}

/**
 * The end of a stretch passes from one body to another. On a strut that is its own mirror image both ends do so at the same angle: the first is
 * taken, and the check of the pattern on both sides of its root tells whether it explains the rest.
 */
function passage(a: Exposure, b: Exposure): Event | null {
  for (let k = 0; k < a.count; k++) {
    if (a.fromCode[k] !== b.fromCode[k]) return difference(a.fromCode[k], b.fromCode[k]);
    if (a.toCode[k] !== b.toCode[k]) return difference(a.toCode[k], b.toCode[k]);
  }
  return null;
}

/** A stretch shrinks to nothing, or two join: where the body between them is grazed, or where two bodies between them part. */
function stretchLost(more: Exposure, fewer: Exposure): Event | null {
  let k = 0;
  while (k < fewer.count && more.fromCode[k] === fewer.fromCode[k] && more.toCode[k] === fewer.toCode[k]) k++;
  const joined = k < fewer.count && more.fromCode[k] === fewer.fromCode[k] && more.toCode[k + 1] === fewer.toCode[k];
  for (let rest = joined ? k + 1 : k; rest < fewer.count; rest++) {
    if (more.fromCode[rest + 1] !== fewer.fromCode[rest] || more.toCode[rest + 1] !== fewer.toCode[rest]) return null;
  }
  if (!joined) return difference(more.toCode[k], more.fromCode[k]);
  const [entered, left] = [more.toCode[k], more.fromCode[k + 1]];
  if (entered >> 1 !== left >> 1) return difference(left, entered);
  return (cover, cosine, sine) => cover.discriminant(entered >> 1, cosine, sine);
}
