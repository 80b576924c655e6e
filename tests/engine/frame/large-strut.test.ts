import { describe, expect, it } from 'vitest';
import { type Placement, strutDeformations, strutEnergy, strutGradient } from '../../../worker/engine/frame/large-strut.ts';
import { strutTangent } from '../../../worker/engine/frame/large-strut-tangent.ts';
import { graphOf, plainFrame, seeded } from '../impact/lattices.ts';
import { atRest, moved, rotationOf, turned } from './placements.ts';

/** One strut in a general direction, its bending planes coupled as a joint model may couple them. */
const frame = plainFrame(
  graphOf(
    [
      [1, 2, 3],
      [10, 6, 8],
    ],
    [[0, 1]],
    3,
  ),
  60,
);
const random = seeded(5);
for (let k = 2; k < 12; k++) frame.natural[k] += 30 * random();
const rest = atRest(frame.graph.xyz);
const disturbed = (shift: number, turn: number) =>
  moved(
    rest,
    Array.from({ length: 12 }, (_, k) => (k % 6 < 3 ? shift : turn) * random()),
  );
const unit = (k: number, size: number) => Array.from({ length: 12 }, (_, i) => (i === k ? size : 0));
const gradientAt = (placement: Placement) => {
  const gradient = new Float64Array(12);
  strutGradient(frame, 0, placement, gradient);
  return gradient;
};
const tangentAt = (placement: Placement) => {
  const [gradient, tangent] = [new Float64Array(12), new Float64Array(144)];
  strutTangent(frame, 0, placement, gradient, tangent);
  return tangent;
};
const largest = (values: ArrayLike<number>) => Array.from(values).reduce((most, each) => Math.max(most, Math.abs(each)), 0);

/** Small, moderate, and turns beyond a right angle to the chord. */
const STATES = [
  [0.01, 0.001],
  [1, 0.1],
  [2, 0.6],
  [2, 1.2],
] as const;

describe('a strut under large rotation', () => {
  it('has the exact gradient of its energy', () => {
    for (const [shift, turn] of STATES) {
      const placement = disturbed(shift, turn);
      const gradient = gradientAt(placement);
      const h = 1e-4;
      for (let k = 0; k < 12; k++) {
        const [low, high, lower, higher] = [-h, h, -2 * h, 2 * h].map((step) => strutEnergy(frame, 0, moved(placement, unit(k, step))));
        // Five points: the error is h^4 times the fifth derivative, 1e-16 of a few times the energy's scale; rounding 1e-16 / h.
        const slope = (8 * (high - low) - (higher - lower)) / (12 * h);
        expect(Math.abs(slope - gradient[k])).toBeLessThan(1e-8 * largest(gradient) + 1e-10);
      }
    }
  });

  it('has the exact second derivatives in rotation vectors as its tangent', () => {
    for (const [shift, turn] of STATES) {
      const placement = disturbed(shift, turn);
      const tangent = tangentAt(placement);
      const h = 1e-4;
      const along = Array.from({ length: 12 }, (_, k) => {
        const [low, high, lower, higher] = [-h, h, -2 * h, 2 * h].map((step) => gradientAt(moved(placement, unit(k, step))));
        return low.map((_, i) => (8 * (high[i] - low[i]) - (higher[i] - lower[i])) / (12 * h));
      });
      for (let i = 0; i < 12; i++) {
        for (let j = 0; j < 12; j++) {
          expect(Math.abs(tangent[12 * i + j] - tangent[12 * j + i])).toBeLessThan(1e-13 * largest(tangent));
          // The gradient's own derivative has the tangent as symmetric part. Error as above.
          expect(Math.abs((along[i][j] + along[j][i]) / 2 - tangent[12 * i + j])).toBeLessThan(1e-8 * largest(tangent));
        }
      }
    }
  });

  it('feels no rigid motion, however large', () => {
    const R = rotationOf([2, -1.3, 0.9]);
    const positions = Float64Array.from(
      [0, 1].flatMap((v) => turned(R, [...rest.positions.subarray(3 * v, 3 * v + 3)]).map((x) => x + 40)),
    );
    const rotations = Float64Array.from([...R, ...R]);
    // A stretch by 1 mm gives 40 N: rounding.
    expect(largest(gradientAt({ positions, rotations }))).toBeLessThan(1e-11);
  });

  it('balances in force and moment', () => {
    const placement = disturbed(2, 0.8);
    const g = gradientAt(placement);
    const [x, y, z] = [0, 1, 2].map((i) => placement.positions[3 + i] - placement.positions[i]);
    const moment = [y * g[8] - z * g[7], z * g[6] - x * g[8], x * g[7] - y * g[6]];
    for (let i = 0; i < 3; i++) {
      expect(g[i] + g[6 + i]).toBeCloseTo(0, 11);
      expect(g[3 + i] + g[9 + i] + moment[i]).toBeCloseTo(0, 10);
    }
  });

  it('is the linear strut where it moves little: phi = theta - e1 x (u1 - u0) / L', () => {
    const moves = Array.from({ length: 12 }, () => 1e-6 * random());
    const q = new Float64Array(6);
    strutDeformations(frame, 0, moved(rest, moves), q);
    const along = (axis: number, at: number) => [0, 1, 2].reduce((sum, i) => sum + frame.triads[3 * axis + i] * moves[at + i], 0);
    const [d1, d2, d3] = [0, 1, 2].map((axis) => along(axis, 6) - along(axis, 0));
    const L = frame.lengthMm[0];
    const turns = [3, 9].flatMap((at) => [along(1, at) + d3 / L, along(2, at) - d2 / L]);
    // Second-order terms of moves of 1e-6.
    [d1, ...turns, along(0, 9) - along(0, 3)].forEach((each, k) => expect(Math.abs(q[k] - each)).toBeLessThan(1e-11));
  });

  it('turns by the angle itself between its chord and a section, beyond a right angle too', () => {
    const q = new Float64Array(6);
    const e2 = [...frame.triads.subarray(3, 6)];
    for (const angle of [1e-3, 0.1, 0.2, 0.21, 1.5, 3]) {
      const spin = e2.map((each) => angle * each);
      strutDeformations(frame, 0, moved(rest, [0, 0, 0, ...spin, 0, 0, 0, ...spin]), q);
      expect(q[1]).toBeCloseTo(angle, 12);
      expect(q[3]).toBeCloseTo(angle, 12);
      expect(q[2]).toBeCloseTo(0, 12);
      expect(q[5]).toBeCloseTo(0, 12);
    }
  });

  it('buckles with pinned ends at about the load of Euler, one element as it is', () => {
    // From memory: P = pi^2 E I / L^2 = 9.87; a cubic with the bow's shortening gives 12 (as any cubic one-element column does).
    const pinned = plainFrame(
      graphOf(
        [
          [0, 0, 0],
          [40, 0, 0],
        ],
        [[0, 1]],
        1,
      ),
      60,
    );
    const [gradient, tangent] = [new Float64Array(12), new Float64Array(144)];
    const least = (pressure: number) => {
      const squeezed = moved(atRest(pinned.graph.xyz), unit(6, -pressure / pinned.natural[0]));
      strutTangent(pinned, 0, squeezed, gradient, tangent);
      const [aa, ab, bb] = [tangent[12 * 4 + 4], tangent[12 * 4 + 10], tangent[12 * 10 + 10]];
      return aa * bb - ab * ab;
    };
    const unitLoad = (60 * Math.PI) / 64 / 40 ** 2;
    expect(least(11.8 * unitLoad)).toBeGreaterThan(0);
    expect(least(12.2 * unitLoad)).toBeLessThan(0);
  });
});
