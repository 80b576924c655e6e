import { type LeastSquaresEnd, solveLeastSquares } from '../least-squares/index.ts';
import { form, inverse, type Square } from './matrix.ts';
import { lnPredicted, type VersionResponse } from './response.ts';
import { type Beliefs, BOUNDS, coordinatesOf, UNKNOWNS, type Values, valuesOf } from './unknowns.ts';

/** One measured number: the mean of a test's repeats on one print. */
export interface Observation {
  /** Place of its version in the list of responses. */
  readonly version: number;
  readonly quantity: string;
  readonly value: number;
  /** One standard deviation of such a value about what its version predicts, percent: parts differ, and readings do. */
  readonly scatterPct: number;
  /** What may be off for all that it reads: one bias for each instrument and quantity. */
  readonly instrument: string;
  /** One standard deviation of that bias, percent; 0: none. */
  readonly biasPct: number;
}

export interface CalibrationProblem {
  readonly responses: readonly VersionResponse[];
  readonly observations: readonly Observation[];
  readonly beliefs: Beliefs;
}

export interface Bias {
  readonly instrument: string;
  readonly quantity: string;
  readonly priorPct: number;
  readonly valuePct: number;
  readonly deviationPct: number;
}

export interface Fit {
  readonly values: Values;
  /** The unknowns' coordinates, then the biases as shares. */
  readonly x: Float64Array;
  /** Of x after the measurements. */
  readonly covariance: Square;
  /** Of x before them, standard deviations. */
  readonly priorDeviations: readonly number[];
  readonly biases: readonly Bias[];
  /** (ln measured - ln predicted - bias) / scatter, one for each observation. */
  readonly residuals: Float64Array;
  /** Weight that the robust loss left each, 1 or less. */
  readonly weights: Float64Array;
  /** d residual / d x at the end, one row for each observation. */
  readonly jacobian: readonly Float64Array[];
  /** Factor by which all deviations were widened, as the residuals scatter more than was said: 1 where they do not. */
  readonly widening: number;
  readonly converged: boolean;
}

/** Huber (1964): residuals beyond k deviations count by their size, no longer by their square; 1.345 keeps 95 % of the efficiency for normal ones. */
const HUBER = 1.345;
const MOST_ROUNDS = 50;
/** Of the deviations believed: far less than any interval. */
const SETTLED = 1e-5;
/** Of central differences: the responses are smooth, so a relative 1e-10 is left of the slope. */
const STEP = 1e-5;
const PERCENT = 100;

/**
 * The unknowns from measurements: the most probable point by iteratively reweighted least squares (Holland and Welsch 1977) with Huber's loss on measurements
 * and normal beliefs about unknowns and biases; its covariance (J'WJ + P^-1)^-1, widened by the Birge ratio where residuals scatter more than was said.
 * Throws RangeError where an observation names a version or a quantity that no response has.
 */
export function calibrate({ responses, observations, beliefs }: CalibrationProblem): Fit {
  for (const { version, quantity } of observations)
    if (!responses[version]?.quantities[quantity]) throw new RangeError(`version ${version} has no response of ${quantity}`);
  const instruments = biasesOf(observations);
  const centre = Float64Array.of(...priorPoint(beliefs), ...instruments.map(() => 0));
  const deviations = [...UNKNOWNS.map((name) => beliefs[name].deviation), ...instruments.map(({ biasPct }) => biasPct / PERCENT)];
  const biasAt = observations.map((each) => instruments.findIndex((other) => other.key === keyOf(each)));
  const residualsAt = residualsOf(responses, observations, biasAt);

  const n = centre.length;
  const measured = observations.length;
  const weights = new Float64Array(measured).fill(1);
  const lower = centre.map((_, j) => BOUNDS.lower[j] ?? -1);
  const upper = centre.map((_, j) => BOUNDS.upper[j] ?? 1);
  let x: Float64Array = centre;
  let end: LeastSquaresEnd;
  let settled = false;
  for (let round = 0; ; round++) {
    const roots = weights.map(Math.sqrt);
    const rows = (at: Float64Array) => {
      const found = residualsAt(at);
      return Float64Array.from({ length: measured + n }, (_, i) =>
        i < measured ? roots[i] * found[i] : (at[i - measured] - centre[i - measured]) / deviations[i - measured],
      );
    };
    end = solveLeastSquares(rows, { start: x, lower, upper, differenceStep: () => 1e-6 });
    const moved = Math.max(...end.x.map((value, j) => Math.abs(value - x[j]) / deviations[j]));
    x = end.x;
    for (const [k, r] of residualsAt(x).entries()) weights[k] = Math.min(1, HUBER / Math.max(Math.abs(r), Number.MIN_VALUE));
    settled = moved < SETTLED;
    if (settled || round === MOST_ROUNDS) break;
  }
  const residuals = residualsAt(x);
  const columns = Array.from(x, (each, j) => {
    const [above, below] = [residualsAt(moveTo(x, j, each + STEP)), residualsAt(moveTo(x, j, each - STEP))];
    return above.map((r, k) => (r - below[k]) / (2 * STEP));
  });
  const jacobian = observations.map((_, k) => Float64Array.from(columns, (column) => column[k]));
  const asSaid = posterior(jacobian, weights, deviations, 1);
  const told = jacobian.reduce((sum, row, k) => sum + weights[k] * form(row, asSaid, row), 0);
  const widening = birge(residuals, weights, told);
  const covariance = widening === 1 ? asSaid : posterior(jacobian, weights, deviations, widening);
  return {
    values: valuesOf(x),
    x,
    covariance,
    priorDeviations: deviations,
    biases: instruments.map(({ instrument, quantity, biasPct }, k) => ({
      ...{ instrument, quantity, priorPct: biasPct, valuePct: PERCENT * x[UNKNOWNS.length + k] },
      deviationPct: PERCENT * Math.sqrt(covariance[UNKNOWNS.length + k][UNKNOWNS.length + k]),
    })),
    residuals,
    weights,
    jacobian,
    widening,
    converged: settled,
  };
}

/** All residuals at a point; what prints of one version share is predicted once. */
function residualsOf(responses: readonly VersionResponse[], observations: readonly Observation[], biasAt: readonly number[]) {
  const shared = new Map<string, Observation>();
  for (const each of observations) shared.set(`${each.version} ${each.quantity}`, each);
  const places = [...shared.keys()];
  const predictedAt = observations.map(({ version, quantity }) => places.indexOf(`${version} ${quantity}`));
  const logs = observations.map(({ value }) => Math.log(value));
  return (x: Float64Array): Float64Array => {
    const predicted = [...shared.values()].map(({ version, quantity }) => lnPredicted(responses[version], quantity, x));
    return Float64Array.from(observations, ({ scatterPct }, k) => {
      const bias = biasAt[k] < 0 ? 0 : x[UNKNOWNS.length + biasAt[k]];
      return (logs[k] - predicted[predictedAt[k]] - bias) / (scatterPct / PERCENT);
    });
  };
}

const priorPoint = (beliefs: Beliefs) =>
  coordinatesOf(Object.fromEntries(UNKNOWNS.map((name) => [name, beliefs[name].value])) as unknown as Values);
const moveTo = (x: Float64Array, j: number, value: number): Float64Array => x.map((each, k) => (k === j ? value : each));

const keyOf = ({ instrument, quantity }: Observation) => `${quantity} ${instrument}`;

/** One for each instrument and quantity that may be off. */
function biasesOf(observations: readonly Observation[]) {
  const found = new Map<string, { key: string; instrument: string; quantity: string; biasPct: number }>();
  for (const each of observations) {
    const { instrument, quantity, biasPct } = each;
    if (biasPct > 0 && !found.has(keyOf(each))) found.set(keyOf(each), { key: keyOf(each), instrument, quantity, biasPct });
  }
  return [...found.values()];
}

/** 95 % point of the normal distribution, one side. */
const Z_ONE_SIDED = 1.6449;

/**
 * The Birge ratio (Birge 1932), sqrt(chi^2 / freedom), where chi^2 lies above its 95 % point (the cube-root approximation of chi-squared); else 1. `told`: how many unknowns the
 * measurements tell, the trace of the hat matrix; those that are believed only cost no freedom.
 */
function birge(residuals: Float64Array, weights: Float64Array, told: number): number {
  const freedom = residuals.length - told;
  if (freedom < 1) return 1;
  const square = residuals.reduce((sum, r, k) => sum + weights[k] * r * r, 0);
  const third = 2 / (9 * freedom);
  const limit = freedom * (1 - third + Z_ONE_SIDED * Math.sqrt(third)) ** 3;
  return square > limit ? Math.sqrt(square / freedom) : 1;
}

function posterior(jacobian: readonly Float64Array[], weights: Float64Array, deviations: readonly number[], widening: number): Square {
  const information = deviations.map((own, j) =>
    deviations.map((_, k) => {
      const measured = jacobian.reduce((sum, row, i) => sum + weights[i] * row[j] * row[k], 0);
      return measured / widening ** 2 + (j === k ? 1 / own ** 2 : 0);
    }),
  );
  return inverse(information);
}
