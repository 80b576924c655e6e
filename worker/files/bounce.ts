import { FILE_DEFAULTS, STILLS } from '../../openapi/files.ts';
import type { Result } from '../../openapi/result.ts';
import {
  animation,
  type BounceFrames,
  bounceFrames,
  byScale,
  type Colouring,
  contactSheet,
  extentOfAll,
  type Moment,
  momentPicture,
  type StrutGraph,
} from '../engine/index.ts';
import type { FileMaker, FileSource } from './makers.ts';

const SIZE_PX = 800;
const SMALL_PX = 400;
/** Shown side by side: at the touch, on the way down, deepest, on the way up, and as it leaves. */
const SIDE_BY_SIDE = 6;
/** Of an animation, and how long each is seen: two seconds in all, a hundred times as slow as the bounce. */
const [MOVING, DELAY_MS] = [24, 80];

const filmed = new WeakMap<Result, BounceFrames | null>();

/** Frames of the bounce of an evaluation in its first orientation, computed once for all that shows them; null: it does not bounce. */
export function framesOf({ evaluation, result, poll = () => {} }: FileSource): BounceFrames | null {
  if (!result?.rebound) return null;
  if (!filmed.has(result)) {
    const isCancelled = () => {
      poll();
      return false;
    };
    const film = bounceFrames(evaluation, undefined, { isCancelled, poll });
    filmed.set(result, film.kind === 'frames' ? film : null);
  }
  return filmed.get(result)!;
}

export const mostOf = (values: Float32Array): number => values.reduce((most, each) => Math.max(most, each), 0);
/** Largest strain of each strut over all frames. */
export const largestStrains = ({ strainPct }: BounceFrames): Float32Array =>
  strainPct.reduce((most, each) => most.map((value, s) => Math.max(value, each[s])), new Float32Array(strainPct[0].length));
export const byStrain = (graph: StrutGraph, values: Float32Array, mostPct: number): Colouring =>
  byScale(graph, values, mostPct, '% strain');

/** So many places of a list, evenly from its first to its last. */
const evenly = (count: number, of: number): number[] => Array.from({ length: count }, (_, k) => Math.round((k * (of - 1)) / (count - 1)));

/** Moments by the numbers of their frames, with time, height of the lowest and the highest point and force on the floor written above; all to one scale. */
function momentsOf(frames: BounceFrames, numbers: readonly number[]): Moment[] {
  const mostPct = mostOf(largestStrains(frames));
  const { nodeRadius } = frames.graph;
  return numbers.map((k) => {
    const graph = { ...frames.graph, xyz: Float64Array.from(frames.xyz[k]) };
    const highest = nodeRadius.reduce((most, r, v) => Math.max(most, graph.xyz[3 * v + 2] + r), 0);
    const caption = `${frames.timesMs[k].toFixed(1)} ms  ${highest.toFixed(1)} mm high  ${frames.forceN[k].toFixed(0)} N`;
    return { graph, colouring: byStrain(graph, frames.strainPct[k], mostPct), caption };
  });
}

/** Pictures of a bounce from the front, evenly over time: six side by side, or one of STILLS alone. */
export function bouncePicture(source: FileSource): Uint8Array | null {
  const frames = framesOf(source);
  if (!frames) return null;
  const { order, poll } = source;
  const extent = extentOfAll(frames.graph, frames.xyz);
  const frame = order.frame ?? FILE_DEFAULTS.frame;
  if (frame === 0)
    return contactSheet(momentsOf(frames, evenly(SIDE_BY_SIDE, frames.xyz.length)), { extent, columns: 3, sizePx: SMALL_PX, poll });
  const [moment] = momentsOf(frames, [evenly(STILLS, frames.xyz.length)[frame - 1]]);
  return momentPicture(moment, { extent, sizePx: SIZE_PX, poll });
}

/** The bounce as an animated PNG; where it does not move, at its largest force. */
function bounceAnimation(source: FileSource): Uint8Array | null {
  const frames = framesOf(source);
  if (!frames) return null;
  const numbers = evenly(MOVING, frames.xyz.length);
  const still = numbers.reduce((best, n, k) => (frames.forceN[n] > frames.forceN[numbers[best]] ? k : best), 0);
  const extent = extentOfAll(frames.graph, frames.xyz);
  return animation(momentsOf(frames, numbers), { extent, sizePx: SMALL_PX, still, delayMs: DELAY_MS, poll: source.poll });
}

const rounded = (values: ArrayLike<number>, step: number): number[] =>
  Array.from(values, (x) => Number((Math.round(x / step) * step).toFixed(3)));

/** The frames as JSON: nodes in the order of graph.json, 3 numbers each, mm from the floor; struts' largest fibre strains; force on the floor. */
function bounceJson(source: FileSource): string | null {
  const frames = framesOf(source);
  if (!frames) return null;
  return JSON.stringify({
    orientation: frames.orientation,
    outcome: frames.outcome,
    contactTimeMs: frames.contactTimeMs,
    timesMs: rounded(frames.timesMs, 1e-3),
    forceN: rounded(frames.forceN, 0.1),
    nodesMm: frames.xyz.map((xyz) => rounded(xyz, 0.01)),
    strainPct: frames.strainPct.map((strain) => rounded(strain, 0.01)),
  });
}

/** What there is of a bounce. */
export const BOUNCING = {
  'bounce.png': bouncePicture,
  'bounce-animation.png': bounceAnimation,
  'bounce.json': bounceJson,
} as const satisfies Record<string, FileMaker>;
