import { dampedStep, normalEquations } from './normal-step.ts';

/** Sum of squares of residuals r(x) over lower <= x <= upper. */
export interface LeastSquaresProblem {
  readonly start: ArrayLike<number>;
  readonly lower: ArrayLike<number>;
  readonly upper: ArrayLike<number>;
  /**
   * `differences`: the Jacobian is taken by forward differences at every accepted point; `secant`: only at the first, then Broyden's rank-one update
   * after every point, for residuals that cost seconds. Default differences.
   */
  readonly jacobian?: 'differences' | 'secant';
  /** Step of the differences in x. Default 1e-7 of x (at least 1e-10). */
  readonly differenceStep?: (x: number, j: number) => number;
  /** Rounds a point to what can be asked for. */
  readonly snap?: (x: Float64Array) => Float64Array;
  /** true: good enough. */
  readonly isEnough?: (x: Float64Array, residuals: Float64Array) => boolean;
  /** Most points asked for; default 100 (n + 1). */
  readonly mostPoints?: number;
  /** Least change of x, and of the sum of squares, as a share of itself. Default 1e-12. */
  readonly tolerance?: number;
  /** Damping of the first step as a share of the Jacobian's scale; default 1e-3. */
  readonly damping?: number;
}

/** `converged`: no step lowers the sum further; `enough`: as asked; `stalled`: steps no longer help, or the start has no residuals; `points`: none are left. */
export interface LeastSquaresEnd {
  readonly kind: 'converged' | 'enough' | 'stalled' | 'points';
  readonly x: Float64Array;
  readonly residuals: Float64Array;
  /** One row for each residual, at x. */
  readonly jacobian: readonly Float64Array[];
  readonly points: number;
}

const GOOD_SHARE = 1e-4;
const MOST_DAMPING = 1e12;

/** Points to ask for together, and what comes back: the residuals of each. */
export type Asking<End> = Generator<readonly Float64Array[], End, readonly Float64Array[]>;

/**
 * Bounded nonlinear least squares by Levenberg (1944) and Marquardt (1963) with the damping of Nielsen (1999); variables at a bound that the gradient pushes
 * outwards are held there, steps end at the bounds. A generator, so that residuals may come from anywhere and at any time: it yields the points it wants to
 * know, and is sent their residuals in the same order. A point that has none is sent infinite ones: each variable in turn is then held, so that the
 * others go on along what forbids that point, and where none helps the step is shortened.
 */
export function* boundedLeastSquares(problem: LeastSquaresProblem): Asking<LeastSquaresEnd> {
  const n = problem.start.length;
  const { tolerance = 1e-12, mostPoints = 100 * (n + 1), isEnough = () => false } = problem;
  const place = placeIn(problem);
  let x = place(Float64Array.from(problem.start));
  let [r] = yield [x];
  let points = 1;
  let jacobian: Float64Array[] = r.length === 0 ? [] : Array.from(r, () => new Float64Array(n));
  const end = (kind: LeastSquaresEnd['kind']): LeastSquaresEnd => ({ kind, x, residuals: r, jacobian, points });
  if (isEnough(x, r)) return end('enough');
  if (!Number.isFinite(half(r))) return end('stalled');

  let damping = problem.damping ?? 1e-3;
  let growth = 2;
  let known = false;
  /** Variables to hold by turns where steps from x lead to points without residuals; the first is the one that helped last. */
  let hold: readonly number[] = [];
  let refused = 0;
  while (points < mostPoints) {
    if (!known) {
      const asked = differencePoints(x, problem, place);
      const found = yield asked;
      points += n;
      jacobian = differences(x, r, asked, found);
      known = true;
      const better = bestOf(asked, found, r);
      if (better && isEnough(better.x, better.r)) {
        [x, r] = [better.x, better.r];
        return end('enough');
      }
    }
    const equations = normalEquations(jacobian, r);
    const free = freeVariables(x, equations.gradient, problem);
    if (free.every((j) => equations.gradient[j] === 0)) return end('converged');
    const held = refused === 0 ? undefined : hold[refused - 1];
    const moving = free.filter((j) => j !== held);
    const { step, predicted } = dampedStep(equations, moving, damping);
    const next = place(x.map((value, j) => value + step[j]));
    const moved = next.map((value, j) => value - x[j]);
    if (isSmall(moved, x, tolerance) && held === undefined) return end(damping > 1 ? 'stalled' : 'converged');
    if (points >= mostPoints) return end('points');
    const [found] = yield [next];
    points++;
    const fell = half(r) - half(found);
    if (problem.jacobian === 'secant' && Number.isFinite(fell)) jacobian = broyden(jacobian, moved, r, found);
    if (fell > GOOD_SHARE * Math.max(predicted, 0) && fell > 0) {
      const share = predicted > 0 ? fell / predicted : 1;
      damping *= Math.max(1 / 3, 1 - (2 * share - 1) ** 3);
      growth = 2;
      const little = fell <= tolerance * half(r);
      if (held !== undefined) hold = [held];
      refused = 0;
      [x, r] = [next, found];
      if (isEnough(x, r)) return end('enough');
      if (little) return end('converged');
      known = problem.jacobian === 'secant';
    } else if (!Number.isFinite(fell) && refused < free.length && free.length > 1) {
      if (refused === 0) hold = byMove(free, moved, hold[0]);
      refused++;
    } else {
      // a point without residuals is no matter of curvature: the step is halved at once
      damping = Number.isFinite(fell) ? damping * growth : Math.max(1, damping * growth);
      growth *= 2;
      refused = 0;
      if (damping > MOST_DAMPING) return end('stalled');
    }
  }
  return end('points');
}

const half = (r: Float64Array): number => r.reduce((sum, each) => sum + each * each, 0) / 2;

const placeIn =
  ({ lower, upper, snap = (x) => x }: LeastSquaresProblem) =>
  (x: Float64Array): Float64Array =>
    snap(x.map((value, j) => Math.min(upper[j], Math.max(lower[j], value)))).map((value, j) =>
      Math.min(upper[j], Math.max(lower[j], value)),
    );

/** Variables that a step may move: not those at a bound that the gradient pushes outwards. */
const freeVariables = (x: Float64Array, gradient: Float64Array, { lower, upper }: LeastSquaresProblem): number[] =>
  Array.from(x.keys()).filter(
    (j) => lower[j] < upper[j] && !(x[j] <= lower[j] && gradient[j] > 0) && !(x[j] >= upper[j] && gradient[j] < 0),
  );

const isSmall = (moved: Float64Array, x: Float64Array, tolerance: number): boolean =>
  moved.every((each, j) => Math.abs(each) <= tolerance * (Math.abs(x[j]) + tolerance));

/** One point for each variable, on the side where there is more room. */
function differencePoints(x: Float64Array, problem: LeastSquaresProblem, place: (x: Float64Array) => Float64Array): Float64Array[] {
  const { lower, upper, differenceStep = (value) => 1e-7 * Math.max(Math.abs(value), 1e-3) } = problem;
  return Array.from(x, (value, j) => {
    const step = differenceStep(value, j) * (upper[j] - value >= value - lower[j] ? 1 : -1);
    return place(x.map((each, k) => (k === j ? each + step : each)));
  });
}

function differences(x: Float64Array, r: Float64Array, asked: readonly Float64Array[], found: readonly Float64Array[]): Float64Array[] {
  return Array.from(r, (value, i) =>
    x.map((each, j) => {
      const slope = (found[j][i] - value) / (asked[j][j] - each);
      return Number.isFinite(slope) ? slope : 0;
    }),
  );
}

/** Free variables, those that moved most first; before them the one that helped last. */
const byMove = (free: readonly number[], moved: Float64Array, helped: number | undefined): number[] =>
  [...free].sort((a, b) => Number(b === helped) - Number(a === helped) || Math.abs(moved[b]) - Math.abs(moved[a]));

function bestOf(asked: readonly Float64Array[], found: readonly Float64Array[], r: Float64Array) {
  let best: { x: Float64Array; r: Float64Array } | null = null;
  for (const [k, each] of found.entries()) if (half(each) < half(best?.r ?? r)) best = { x: asked[k], r: each };
  return best;
}

/** Broyden (1965): the least change of the Jacobian that explains the last step. */
function broyden(jacobian: readonly Float64Array[], moved: Float64Array, before: Float64Array, after: Float64Array): Float64Array[] {
  const length = moved.reduce((sum, each) => sum + each * each, 0);
  return jacobian.map((row, i) => {
    const miss = (after[i] - before[i] - row.reduce((sum, each, j) => sum + each * moved[j], 0)) / length;
    return row.map((each, j) => each + miss * moved[j]);
  });
}
