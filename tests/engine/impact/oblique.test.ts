import { describe, expect, it } from 'vitest';
import { type ObliqueBounce, type ObliqueTest, obliqueDrop } from '../../../worker/engine/impact/index.ts';
import { modelOf } from '../../../worker/engine/impact/model.ts';
import { doubleShell } from '../lattice/samples.ts';
import { plainFrame } from './lattices.ts';

const BALL = doubleShell(2, 0, [45, 36], [5, 4.5, 4.5]).graph;
const RELAXATION = { longTermMPa: 60, instantaneousMPa: 84, branches: [{ ratio: 0.4, timeS: 1e-3 }] };
const MASS_T = 7e-5;
const FRAME = plainFrame(BALL, 60);
const RADIUS_MM = 47.5;
/** A two-fold axis down: the ball is its own mirror image across the way. */
const DOWN = { name: 'two-fold', down: [0, 0, -1] as const };

function thrown(test: Partial<ObliqueTest>): ObliqueBounce {
  const dropped = { frame: FRAME, massT: MASS_T, relaxation: RELAXATION };
  const outcome = obliqueDrop(dropped, { speedMS: 5, angleDeg: 40, spinRadS: 0, friction: 0.3, orientations: [DOWN], ...test });
  if (outcome.kind !== 'report') throw new Error(outcome.kind);
  expect(outcome.byOrientation[0].outcome).toBe('rebound');
  return outcome.byOrientation[0];
}

/** Moment of inertia of the nodes about an axis through the centre. */
function inertia(): number {
  const { nodes, reference } = modelOf(FRAME, MASS_T);
  return nodes.mass.reduce((sum, m, v) => sum + m * (reference[3 * v] ** 2 + reference[3 * v + 2] ** 2) + nodes.inertia[v], 0);
}

describe('an oblique bounce', () => {
  it('keeps its speed along the floor and gets no spin without friction', () => {
    const { tangentialShare, spinRadS, energy } = thrown({ friction: 0 });
    expect(tangentialShare).toBeCloseTo(1, 9);
    expect(Math.abs(spinRadS)).toBeLessThan(1e-6);
    expect(energy.balanceErrorPct).toBeLessThan(0.5);
  });

  it('slides all the way where it comes in flat on a smooth floor: the push along is the friction coefficient times the push up', () => {
    const [speedMS, angleDeg, friction] = [5, 60, 0.05];
    const bounce = thrown({ angleDeg, friction });
    const [along, down] = [speedMS * Math.sin((angleDeg * Math.PI) / 180), speedMS * Math.cos((angleDeg * Math.PI) / 180)];
    const weight = 9.80665 * 1e-3 * bounce.contactTimeMs;
    const push = down * (1 + bounce.normalRestitution) + weight;
    const lost = along * (1 - bounce.tangentialShare);
    // All nodes slide the same way but for their own shaking, which turns a few about for moments; the weight acts a little beyond the contact.
    expect(lost / (friction * push)).toBeGreaterThan(0.97);
    expect(lost / (friction * push)).toBeLessThan(1.01);
    // The same impulse turns the ball: about its lever, less than the radius as the ball is pressed flat and leans on its front.
    const lever = (bounce.spinRadS * inertia()) / (MASS_T * lost * 1e3);
    expect(lever).toBeGreaterThan(0.6 * RADIUS_MM);
    expect(lever).toBeLessThan(RADIUS_MM);
  });

  it('grips on a rough floor: it leaves with a spin that all but rolls, slower along than it came', () => {
    const { spinRadS, tangentialShare, energy } = thrown({ friction: 0.9 });
    const along = 5 * Math.sin((40 * Math.PI) / 180);
    const rolling = (spinRadS * RADIUS_MM * 1e-3) / (tangentialShare * along);
    expect(rolling).toBeGreaterThan(0.8);
    // It may overspin: the strained lattice gives back part of its sideways wind-up (Cross 2002, grip-slip of balls).
    expect(rolling).toBeLessThan(1.6);
    expect(tangentialShare).toBeLessThan(0.8);
    expect(energy.frictionJ).toBeGreaterThan(0);
    expect(energy.balanceErrorPct).toBeLessThan(0.5);
  });

  it('is turned round by enough back spin', () => {
    const plain = thrown({ friction: 0.6 });
    const back = thrown({ friction: 0.6, spinRadS: -200 });
    expect(back.angleDeg).toBeLessThan(plain.angleDeg);
    expect(back.tangentialShare).toBeLessThan(plain.tangentialShare - 0.2);
  });

  it('stays in the plane of its way where that is a mirror plane of the ball', () => {
    const { sidewaysMS, otherSpinRadS } = thrown({});
    // Rounding, grown over some hundred steps.
    for (const each of [sidewaysMS, ...otherSpinRadS]) expect(Math.abs(each)).toBeLessThan(1e-6);
  });
});
