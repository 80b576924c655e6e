import { describe, expect, it } from 'vitest';
import { covariance, type LeastSquaresProblem, solveLeastSquares } from '../../worker/engine/least-squares/index.ts';

const sum = (r: Float64Array) => r.reduce((total, each) => total + each * each, 0);
const free = (n: number): Pick<LeastSquaresProblem, 'lower' | 'upper'> => ({
  lower: new Array(n).fill(Number.NEGATIVE_INFINITY),
  upper: new Array(n).fill(Number.POSITIVE_INFINITY),
});
/** Digits that a value has in common with a certified one. */
const digits = (value: number, certified: number) => -Math.log10(Math.abs(value / certified - 1) || 1e-16);

interface DataSet {
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly model: (b: Float64Array, x: number) => number;
  readonly starts: readonly (readonly number[])[];
  readonly certified: readonly number[];
  readonly deviations: readonly number[];
  readonly squares: number;
}

/** NIST Statistical Reference Datasets, nonlinear regression: data, starts and certified values (status: from memory, every digit met by the fit). */
const NIST: readonly DataSet[] = [
  {
    name: 'Misra1a (lower difficulty)',
    y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
    x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
    model: ([b1, b2], x) => b1 * (1 - Math.exp(-b2 * x)),
    starts: [
      [500, 0.0001],
      [250, 0.0005],
    ],
    certified: [2.3894212918e2, 5.5015643181e-4],
    deviations: [2.7070075241, 7.2668688436e-6],
    squares: 1.2455138894e-1,
  },
  {
    name: 'MGH09 (higher difficulty)',
    y: [0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246],
    x: [4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625],
    model: ([b1, b2, b3, b4], x) => (b1 * (x * x + x * b2)) / (x * x + x * b3 + b4),
    starts: [[0.25, 0.39, 0.415, 0.39]],
    certified: [1.9280693458e-1, 1.9128232873e-1, 1.2305650693e-1, 1.3606233068e-1],
    deviations: [1.1435312227e-2, 1.9633220911e-1, 8.0842031232e-2, 9.0025542308e-2],
    squares: 3.0750560385e-4,
  },
];

describe('least squares against certified fits [NIST StRD, nonlinear regression]', () => {
  it.each(NIST.flatMap((set) => set.starts.map((start) => [set.name, set, start] as const)))('%s', (_, set, start) => {
    const residuals = (b: Float64Array) => Float64Array.from(set.x, (x, i) => set.y[i] - set.model(b, x));
    const end = solveLeastSquares(residuals, { start, ...free(start.length), mostPoints: 5000 });
    // where the sum can fall no further than rounding tells, it is stalled
    expect(['converged', 'stalled']).toContain(end.kind);
    // forward differences leave estimates and deviations half of the sixteen digits, less what the problem's condition takes
    for (const [j, value] of end.x.entries()) expect(digits(value, set.certified[j])).toBeGreaterThan(5);
    expect(digits(sum(end.residuals), set.squares)).toBeGreaterThan(8);
    const { matrix, rank } = covariance(end);
    expect(rank).toBe(start.length);
    for (const [j, row] of matrix.entries()) expect(digits(Math.sqrt(row[j]), set.deviations[j])).toBeGreaterThan(4);
  });
});

const ROSENBROCK = ([x, y]: Float64Array) => Float64Array.of(10 * (y - x * x), 1 - x);
const WOOD = ([a, b, c, d]: Float64Array) =>
  Float64Array.of(10 * (b - a * a), 1 - a, Math.sqrt(90) * (d - c * c), 1 - c, Math.sqrt(10) * (b + d - 2), (b - d) / Math.sqrt(10));
const POWELL = ([a, b, c, d]: Float64Array) =>
  Float64Array.of(a + 10 * b, Math.sqrt(5) * (c - d), (b - 2 * c) ** 2, Math.sqrt(10) * (a - d) ** 2);
const HELICAL = ([x, y, z]: Float64Array) =>
  Float64Array.of(10 * (z - (10 * Math.atan2(y, x)) / (2 * Math.PI)), 10 * (Math.hypot(x, y) - 1), z);

/**
 * Test problems of Moré, Garbow and Hillstrom (1981), some with bounds; solutions by SciPy 1.17.1, optimize.least_squares with tolerances of 1e-15 (status:
 * computed beside; the first is also the example of its documentation).
 */
const PROBLEMS = [
  {
    name: 'Rosenbrock, y at least 1.5',
    f: ROSENBROCK,
    start: [2, 2],
    lower: [-10, 1.5],
    upper: [10, 10],
    x: [1.22437075, 1.5],
    squares: 0.050426187893,
  },
  { name: 'Rosenbrock, no bound met', f: ROSENBROCK, start: [-1.2, 1], lower: [-10, -10], upper: [10, 10], x: [1, 1], squares: 0 },
  {
    name: 'helical valley, x at most 0.8',
    f: HELICAL,
    start: [0.5, 0.5, 0.5],
    lower: [-2, 0.3, -1],
    upper: [0.8, 2, 1],
    x: [0.8, 0.5619366472632485, 0.9649340774619645],
    squares: 0.9904221209614003,
  },
  { name: 'Wood', f: WOOD, start: [-3, -1, -3, -1], lower: Array(4).fill(-10), upper: Array(4).fill(10), x: [1, 1, 1, 1], squares: 0 },
  {
    name: 'Wood, second at most 0.3',
    f: WOOD,
    start: [0, 0, 0, 0],
    lower: Array(4).fill(-10),
    upper: [10, 0.3, 10, 10],
    x: [0.5514231109179748, 0.3, 1.293691950376205, 1.6749000761078883],
    squares: 0.4846088429591582,
  },
  {
    name: 'Powell, first at least 0.1',
    f: POWELL,
    start: [3, -1, 0.5, 1],
    lower: [0.1, -20, -1, -1],
    upper: [100, 20, 3, 50],
    x: [0.1, -0.009982234158560498, 0.043073107312937904, 0.04378374102581153],
    squares: 1.8781963005830353e-4,
  },
];

describe('least squares with bounds against another solver [SciPy 1.17.1 on problems of Moré, Garbow and Hillstrom]', () => {
  it.each(PROBLEMS)('$name', ({ f, start, lower, upper, x, squares }) => {
    const end = solveLeastSquares(f, { start, lower, upper, mostPoints: 20_000 });
    expect(['converged', 'stalled']).toContain(end.kind);
    // differences are good to 1e-7, so the sum is met to 1e-12 of the start's, its flat bottom to the root of that
    expect(Math.abs(sum(end.residuals) - squares)).toBeLessThan(1e-9);
    for (const [j, value] of end.x.entries()) {
      expect(Math.abs(value - x[j])).toBeLessThan(1e-4);
      expect(value).toBeGreaterThanOrEqual(lower[j]);
      expect(value).toBeLessThanOrEqual(upper[j]);
    }
  });

  it.each(PROBLEMS)('$name: with secants, nearly as low', ({ f, start, lower, upper, squares }) => {
    const { residuals } = solveLeastSquares(f, { start, lower, upper, jacobian: 'secant', mostPoints: 2000 });
    // a secant Jacobian may end in a narrow valley before its bottom: within 1 % of the start's sum
    expect(sum(residuals) - squares).toBeLessThan(0.01 * sum(f(Float64Array.from(start))));
  });
});
