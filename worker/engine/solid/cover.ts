import { type Bodies, makeBodies } from './bodies.ts';
import type { Frames } from './frames.ts';

/** Exposed stretches [from, to] along a generator line and what ends each: see `Cover.limit` for the codes. */
export interface Exposure {
  count: number;
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly fromCode: Int32Array;
  readonly toCode: Int32Array;
}
export const makeExposure = (size = 64): Exposure => ({
  count: 0,
  from: new Float64Array(size),
  to: new Float64Array(size),
  fromCode: new Int32Array(size),
  toCode: new Int32Array(size),
});

/** The bodies around a strut, and what they leave exposed of it. */
export interface Cover extends Bodies {
  /** Exposed stretches of the line at cos(phi), sin(phi), ascending. */
  expose(cosine: number, sine: number, out: Exposure): void;
  /** Where the line enters (code 2 * body) or leaves (2 * body + 1) a body, within [0, L]; the strut's own ends have the codes below; NaN when missed. */
  limit(code: number, cosine: number, sine: number): number;
  /** See `Bodies.interval`. */
  discriminant(body: number, cosine: number, sine: number): number;
}
export const AT_START = -1;
export const AT_END = -2;

/** Stretches shorter than this share of the strut are rounding. */
const NOTHING = 1e-12;

export function makeCover(frames: Frames): Cover {
  const bodies = makeBodies(frames);
  const { interval } = bodies;
  const range = new Float64Array(2);
  let lows = new Float64Array(64);
  let highs = new Float64Array(64);
  let order = new Int32Array(64);

  function expose(cosine: number, sine: number, out: Exposure): void {
    const count = bodies.count();
    if (count > lows.length) grow(count);
    let met = 0;
    for (let body = 0; body < count; body++) {
      interval(body, cosine, sine, range);
      const low = range[0];
      if (!(low < range[1])) continue;
      lows[body] = low;
      highs[body] = range[1];
      let place = met++;
      for (; place > 0 && lows[order[place - 1]] > low; place--) order[place] = order[place - 1];
      order[place] = body;
    }
    sweep(met, out);
  }

  /** Complement of the sorted covered intervals in [0, L]. */
  function sweep(met: number, out: Exposure): void {
    const length = bodies.length();
    let reached = 0;
    let code = AT_START;
    out.count = 0;
    for (let k = 0; k < met; k++) {
      const body = order[k];
      if (lows[body] > reached + NOTHING * length) emit(out, reached, code, lows[body], 2 * body);
      if (highs[body] > reached) {
        reached = highs[body];
        code = 2 * body + 1;
      }
    }
    if (length > reached + NOTHING * length) emit(out, reached, code, length, AT_END);
  }

  function emit(out: Exposure, from: number, fromCode: number, to: number, toCode: number): void {
    if (out.count === out.from.length) throw new RangeError(`a strut is exposed in more than ${out.count} stretches of one line`);
    const k = out.count++;
    out.from[k] = from;
    out.to[k] = to;
    out.fromCode[k] = fromCode;
    out.toCode[k] = toCode;
  }

  function grow(size: number): void {
    lows = new Float64Array(2 * size);
    highs = new Float64Array(2 * size);
    order = new Int32Array(2 * size);
  }

  function limit(code: number, cosine: number, sine: number): number {
    if (code === AT_START) return 0;
    if (code === AT_END) return bodies.length();
    interval(code >> 1, cosine, sine, range);
    return range[0] < range[1] ? range[code & 1] : Number.NaN;
  }

  return { ...bodies, expose, limit, discriminant: (body, cosine, sine) => interval(body, cosine, sine, range) };
}
