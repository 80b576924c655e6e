import { describe, expect, it } from 'vitest';
import { equilibriumOf, settle } from '../../worker/engine/frame/equilibrium.ts';
import { chain, clamp, deadLoads, holding, type Section } from './large-rotation.ts';
import { pathOf, toFactor } from './path.ts';

/** P L^2 / EI, deflection / L, shortening / L, tip slope: check of Bisshopp & Drucker 1945, computed from the elastica's elliptic integrals. */
const ELASTICA = [
  [0.25, 0.08275, 0.00412, 0.12429],
  [0.5, 0.16214, 0.01592, 0.24453],
  [1, 0.30172, 0.05643, 0.46135],
  [1.5, 0.41098, 0.10794, 0.63954],
  [2, 0.49346, 0.16064, 0.78175],
  [3, 0.60325, 0.25442, 0.98602],
  [4, 0.66996, 0.32894, 1.12124],
  [5, 0.71379, 0.38763, 1.21537],
  [6, 0.74457, 0.43459, 1.2837],
  [8, 0.78498, 0.50483, 1.37443],
  [10, 0.81061, 0.555, 1.43029],
  [15, 0.84772, 0.63529, 1.50184],
] as const;

/** Bending stiffness 1, and so stiff along and across that it is as good as inextensible and without shear. */
const SLENDER: Section = { EA: 1e6, GA: 1e9, GJ: 1, EI2: 1, EI3: 1 };
const line = (count: number) => Array.from({ length: count + 1 }, (_, k) => [k / count, 0, 0]);

/** Deflection, shortening and slope of the tip of a cantilever of length 1 under each load in turn. */
function cantilever(elements: number, loads: readonly number[]): number[][] {
  const frame = chain(line(elements), SLENDER, [0, 0, 1]);
  const scale = { of: 0 };
  const actions = deadLoads(new Map([[elements, [0, 0, -1]]]), scale);
  const state = equilibriumOf({ frame, actions, held: holding(elements + 1, clamp(0)) });
  return loads.map((load) => {
    scale.of = load;
    expect(settle(state).kind).toBe('settled');
    const { positions, rotations } = state.placement;
    return [-positions[3 * elements + 2], 1 - positions[3 * elements], Math.acos(rotations[9 * elements])];
  });
}

describe('large rotation against published solutions', () => {
  it('bends a cantilever as the elastica does', () => {
    const found = cantilever(
      16,
      ELASTICA.map(([load]) => load),
    );
    ELASTICA.forEach(([, ...row], k) => {
      row.forEach((each, i) => {
        // Printed to 5 digits after the point, and 16 elements are good to 1e-5.
        expect(Math.abs(found[k][i] - each)).toBeLessThan(2e-5);
      });
    });
  });

  it('converges with the fourth power of the element size', () => {
    // Deflection at P L^2 / EI = 4, against 32 elements.
    const [, ...errors] = [32, 2, 4, 8]
      .map((elements) => {
        const path = pathOf(chain(line(elements), SLENDER, [0, 0, 1]), clamp(0), new Map([[6 * elements + 2, -1]]));
        for (const load of [1, 2, 3, 4]) toFactor(path, load);
        return -path.placement.positions[3 * elements + 2];
      })
      .map((each, k, all) => each - (k && all[0]));
    expect(errors[0] / errors[1]).toBeGreaterThan(10);
    expect(errors[1] / errors[2]).toBeGreaterThan(10);
  });
});
