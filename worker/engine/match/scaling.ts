import { type LeastSquaresProblem, solveLeastSquares } from '../least-squares/index.ts';
import { residualsOf } from './misses.ts';
import type { Outcome, SearchProblem } from './problem.ts';
import type { Space } from './space.ts';

/** How strongly the step keeps to where it began, of what the targets pull: of many ways there the nearest is taken. */
const STAY = 0.05;

/**
 * Power with which a quantity goes with a parameter of slender struts: mass with d^2 of what each diameter carries and with the length of all struts, stiffness
 * in bending with d^4 / L^3, size with the diameter. 0 where nothing so simple is known.
 */
export function exponent(quantity: string, path: string, diameters: number): number {
  const strut = path.endsWith('strutDiameterMm');
  const size = path === 'carrier.outsideDiameterMm';
  if (/massG|volumeMm3|relativeDensityPct/i.test(quantity)) return strut ? 2 / diameters : size ? 1 : 0;
  if (/NPerMm/.test(quantity)) return strut ? 4 / diameters : size ? -2 : 0;
  if (/peakForceN/.test(quantity)) return strut ? 2 / diameters : 0;
  return size && /outsideDiameterMm|circumferenceMm/.test(quantity) ? 1 : 0;
}

/** Where the powers of slender struts say that the targets are met, from one outcome; the same place where they say nothing. */
export function scaledStart(problem: SearchProblem, space: Space, from: Float64Array, outcome: Outcome): Float64Array {
  const { numbers, targets, limits, diameters } = problem;
  const quantities = [...targets, ...limits].map(({ quantity }) => quantity);
  const predicted = (u: Float64Array): Outcome => {
    const at = space.exactlyAt(u);
    const before = space.exactlyAt(from);
    const values = quantities.map((quantity) => {
      const value = outcome.values[quantity] ?? null;
      if (value === null) return [quantity, null] as const;
      const power = numbers.reduce(
        (sum, { path }, j) => sum + exponent(quantity, path, diameters) * Math.log(Math.abs(at[j] / before[j] || 1)),
        0,
      );
      return [quantity, value * Math.exp(power)] as const;
    });
    return { values: Object.fromEntries(values), printable: true };
  };
  const residuals = (u: Float64Array) =>
    Float64Array.from([...residualsOf(problem, predicted(u)), ...u.map((each, j) => STAY * (each - from[j]))]);
  const bounds: LeastSquaresProblem = { start: from, lower: space.lower, upper: space.upper, mostPoints: 500, tolerance: 1e-6 };
  return solveLeastSquares(residuals, bounds).x;
}
