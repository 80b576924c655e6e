import { beforeAll, describe, expect, it } from 'vitest';
import { sumOfStruts } from '../../worker/engine/geometry.ts';
import type { Lattice } from '../../worker/engine/lattice/index.ts';
import { integrateUnion, massProperties, unionSurface } from '../../worker/engine/solid/index.ts';
import { doubleShell } from '../engine/lattice/samples.ts';
import { type StarMoments, starMoments } from './star-shape.ts';

const DENSITY_G_MM3 = 1.1e-3;
const unionOf = ({ graph, symmetry }: Lattice) =>
  massProperties(integrateUnion(graph, unionSurface(graph), symmetry).moments, [0, 0, 0], DENSITY_G_MM3);
/** The two balls: centre lines at 90 and 75 mm, outer struts 3 mm, inner ones and posts 2.5 mm, no relaxation. */
const balls = {
  'GP(2,0)': { lattice: doubleShell(2, 0, [90, 75], [3, 2.5, 2.5]), sum: 47_990.32, union: 45_963.35, reach: 0.05, inertia: 236_506.7 },
  'GP(3,0)': { lattice: doubleShell(3, 0, [90, 75], [3, 2.5, 2.5]), sum: 76_156.68, union: 71_638.36, reach: 0.5, inertia: 371_688.4 },
};

describe.each(Object.entries(balls))('%s, two layers [direct sampling of directions around nodes; status: computed]', (_, ball) => {
  const found = unionOf(ball.lattice);

  it(`sum of cylinders ${ball.sum} mm3`, () => {
    // printed to 0.01
    expect(Math.abs(sumOfStruts(ball.lattice.graph) - ball.sum)).toBeLessThan(0.0051);
  });

  it(`union ${ball.union} mm3 within ${ball.reach}`, () => {
    // the sampled value is stated to +-0.02 and +-0.3
    expect(Math.abs(found.volume - ball.union)).toBeLessThan(ball.reach);
  });

  it(`inertia ${ball.inertia} g mm2 within a part in 100 000, about every axis`, () => {
    for (const principal of found.principal) expect(Math.abs(principal / ball.inertia - 1)).toBeLessThan(1e-5);
  });

  it('overlap of 12.5 to 12.7 mm3 per node', () => {
    const overlap = (sumOfStruts(ball.lattice.graph) - found.volume) / ball.lattice.graph.nodeCount;
    expect(overlap).toBeGreaterThan(12.45);
    expect(overlap).toBeLessThan(12.75);
  });
});

describe.each([
  ['GP(2,0)', balls['GP(2,0)'].lattice, 4],
  ['GP(3,3)', doubleShell(3, 3, [90, 75], [3, 2.5, 2.5]), 12],
] as const)('%s against stars about its nodes [a second route of our own; status: computed]', (_, lattice, kinds) => {
  let coarse: StarMoments;
  let fine: StarMoments;
  const found = unionOf(lattice);
  beforeAll(() => {
    [coarse, fine] = [300, 600].map((circles) => starMoments(lattice.graph, { circles }));
  }, 60_000);

  it(`has ${kinds} kinds of node`, () => expect(fine.kinds).toBe(kinds));

  it('volume within 1e-6', () => {
    // halving the step moved the sum over directions by 3e-7: its own error is below the agreement asked for
    expect(Math.abs(coarse.volume / fine.volume - 1)).toBeLessThan(6e-7);
    expect(Math.abs(found.volume / fine.volume - 1)).toBeLessThan(1e-6);
  });

  it('inertia within 1e-6', () => {
    // isotropic: I = 2/3 of the density times the integral of |x|^2
    const inertia = (2 / 3) * DENSITY_G_MM3 * fine.polar;
    for (const principal of found.principal) expect(Math.abs(principal / inertia - 1)).toBeLessThan(1e-6);
  });
});

describe('stars about the nodes', () => {
  it('refuse a lattice whose joints meet, where they would be wrong', () => {
    expect(() => starMoments(doubleShell(1, 0, [40, 34], [6, 5, 5]).graph, { circles: 10 })).toThrow(/joints of its ends meet/);
  });
});
