import { describe, expect, it } from 'vitest';
import { type BounceFrames, bounceFrames, evaluate } from '../../worker/engine/index.ts';
import { inputOf } from './inputs.ts';

const QUICK = { depth: 'full', drop: { orientations: 4 }, compression: { toPctOfDiameter: 2, secantAtPct: 1 }, frequencies: 1 };
const input = await inputOf({ tests: QUICK });
const framesOf = (orientation?: string): BounceFrames => {
  const outcome = bounceFrames(input, orientation);
  if (outcome.kind !== 'frames') throw new Error(JSON.stringify(outcome));
  return outcome;
};
const told = evaluate(input);
if (told.kind !== 'done') throw new Error(told.kind);
const bounces = told.result.rebound!.byOrientation;
const random = bounces.at(-1)!;
const film = framesOf(random.name);
const lowest = ({ graph }: BounceFrames, xyz: Float32Array) => Math.min(...graph.nodeRadius.map((radius, v) => xyz[3 * v + 2] - radius));

describe('the frames of a bounce', () => {
  it('are 60 to 120, equally spaced in time, from the touch to after the lift', () => {
    const { timesMs, xyz, strainPct } = film;
    expect(timesMs.length).toBeGreaterThanOrEqual(60);
    expect(timesMs.length).toBeLessThan(120);
    expect([xyz.length, strainPct.length]).toEqual([timesMs.length, timesMs.length]);
    timesMs.forEach((time, k) => expect(time).toBeCloseTo(k * timesMs[1], 9));
    expect(timesMs.at(-1)).toBeGreaterThan(random.contactTimeMs);
  });

  it('begin with the undeformed lattice just touching the floor', () => {
    const { xyz, graph, strainPct } = film;
    // Single precision holds 7 digits of 70 mm.
    expect(Math.abs(lowest(film, xyz[0]))).toBeLessThan(1e-5);
    expect(Math.max(...strainPct[0])).toBeLessThan(1e-9);
    const between = (places: ArrayLike<number>, a: number, b: number) =>
      Math.hypot(...[0, 1, 2].map((k) => places[3 * a + k] - places[3 * b + k]));
    for (let v = 1; v < graph.nodeCount; v++) expect(between(xyz[0], 0, v)).toBeCloseTo(between(graph.xyz, 0, v), 4);
  });

  it('show the bounce that the evaluation told of: its strain at its strut, its contact, its outcome', () => {
    expect(film.outcome).toBe(random.outcome);
    expect(film.contactTimeMs).toBeCloseTo(random.contactTimeMs, 6);
    const { strut, timeMs } = random.peakStrainAt;
    const nearest = Math.round(timeMs / film.timesMs[1]);
    // The frame nearest the peak is up to half a hundredth of the bounce off it, where strain is level.
    expect(film.strainPct[nearest][strut] / random.peakStrainPct).toBeGreaterThan(0.97);
    for (const strains of film.strainPct) expect(Math.max(...strains)).toBeLessThan(1.001 * random.peakStrainPct);
    const touching = film.xyz.map((xyz) => lowest(film, xyz) < 0);
    film.timesMs.forEach((time, k) => {
      if (time > film.contactTimeMs) expect(touching[k]).toBe(false);
    });
    expect(touching.filter(Boolean).length).toBeGreaterThan(20);
  });

  it('tell the force on the floor as the gauge does: none at the touch and after the lift, the peak that the evaluation told', () => {
    const { forceN, timesMs, contactTimeMs } = film;
    expect(forceN[0]).toBe(0);
    const most = forceN.reduce((best, each) => Math.max(best, each));
    // Frames lie up to half a hundredth of the bounce beside the peak, and are of the whole lattice, not of the part that repeats: sums round otherwise.
    expect(most / random.peakForceN).toBeGreaterThan(0.95);
    expect(most / random.peakForceN).toBeLessThan(1 + 1e-6);
    // The window of half a millisecond reaches back into the contact; what is left of its running sum is rounding.
    timesMs.forEach((time, k) => {
      if (time > contactTimeMs + 0.6) expect(forceN[k]).toBeCloseTo(0, 9);
    });
  });

  it('are of the first orientation unless one is named, and the same each time', () => {
    const first = framesOf();
    expect(first.orientation).toBe(bounces[0].name);
    expect(first.contactTimeMs).toBeCloseTo(bounces[0].contactTimeMs, 6);
    expect(framesOf(bounces[0].name)).toEqual(first);
  });

  it('are refused for an orientation that is not dropped, and can be cancelled', () => {
    expect(bounceFrames(input, 'upside-down')).toMatchObject({ kind: 'failed', error: { code: 'unknown-orientation' } });
    expect(bounceFrames(input, undefined, { isCancelled: () => true })).toEqual({ kind: 'cancelled' });
  });
});
