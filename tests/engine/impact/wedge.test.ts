import { describe, expect, it } from 'vitest';
import { type DropBounce, drop, orientationsOf, relaxationOf } from '../../../worker/engine/impact/index.ts';
import { stabiliser } from '../../../worker/engine/impact/stabiliser.ts';
import type { Lattice } from '../../../worker/engine/lattice/index.ts';
import { goldberg } from '../../../worker/engine/tiling/index.ts';
import { doubleShell } from '../lattice/samples.ts';
import { plainFrame } from './lattices.ts';

const found = relaxationOf({ modulusMPa: 60, referenceHz: 30, lossFactor: 0.12 });
if (found.kind === 'refused') throw new Error(found.message);
const { relaxation } = found;

const ball = (m: number, n: number): Lattice => doubleShell(m, n, [45, 36], [4, 3.5, 3.5]);
const groupOf = (m: number, n: number) => goldberg(m, n).symmetry.rotations;
/** A direction in the mirror plane x = 0 of classes I and II, on no axis. */
const IN_MIRROR = { name: 'in a mirror plane', down: [0, 0.6, 0.8] as const };

describe('a symmetric drop', () => {
  it.each([
    // Orders of the stabilisers of icosahedral axes (textbook): with mirrors 2 n on an n-fold axis, without n.
    [2, 0, [10, 6, 4]],
    [1, 1, [10, 6, 4]],
    [2, 1, [5, 3, 2]],
  ])('GP(%i,%i) falls on itself in %j ways about its axes', (m, n, orders) => {
    const frame = plainFrame(ball(m, n).graph, 60);
    const axes = orientationsOf(ball(m, n), groupOf(m, n), 3, 1);
    expect(axes.map(({ down }) => stabiliser(frame, groupOf(m, n), down).length)).toEqual(orders);
    expect(stabiliser(frame, groupOf(m, n), IN_MIRROR.down)).toHaveLength(m === n || n === 0 ? 2 : 1);
  });

  it('has no symmetry where one strut is stiffer', () => {
    const frame = plainFrame(ball(2, 0).graph, 60);
    frame.natural[0] *= 1.01;
    const [{ down }] = orientationsOf(ball(2, 0), groupOf(2, 0), 1, 1);
    // The mirror plane through that strut may be left.
    expect(stabiliser(frame, groupOf(2, 0), down).length).toBeLessThanOrEqual(2);
  });

  it.each([
    [2, 0, 0],
    [2, 0, 0.4],
    [2, 1, 0],
  ])('GP(%i,%i) with friction %f bounces as the whole ball does', (m, n, friction) => {
    const { graph } = ball(m, n);
    const frame = plainFrame(graph, relaxation.longTermMPa);
    const orientations = [...orientationsOf(ball(m, n), groupOf(m, n), 3, 1), IN_MIRROR];
    const test = { heightMm: 600, orientations, friction, stepS: 1.5e-5 };
    const [part, whole] = [groupOf(m, n), undefined].map((rotations) => {
      const outcome = drop({ frame, massT: 4.5e-5, relaxation, rotations }, test);
      if (outcome.kind !== 'report') throw new Error(outcome.kind);
      return outcome.byOrientation;
    });
    const numbers = (bounce: DropBounce) => {
      const { contactTimeMs, peakForceN, peakStrainPct, energy, history } = bounce;
      const { incomingJ, reboundJ, vibrationJ, dissipatedJ, branchesJ } = energy;
      return [
        bounce.reboundHeightMm!,
        contactTimeMs,
        peakForceN,
        peakStrainPct,
        incomingJ,
        reboundJ,
        vibrationJ,
        dissipatedJ,
        branchesJ,
        ...history.forceN,
      ];
    };
    part.forEach((bounce, k) => {
      expect(bounce.outcome).toBe('rebound');
      // Rounding, grown over some 500 steps.
      numbers(whole[k]).forEach((each, i) => expect(Math.abs(numbers(bounce)[i] - each)).toBeLessThanOrEqual(1e-6 * Math.abs(each) + 1e-9));
      expect(bounce.spinRadS).toBeCloseTo(whole[k].spinRadS, 5);
      expect(bounce.sidewaysMS).toBeCloseTo(whole[k].sidewaysMS, 7);
    });
  });
});
