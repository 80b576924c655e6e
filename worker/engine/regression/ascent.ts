/** A value to be made large and its slope; null: there is none at this place. */
export type Hill = (x: Float64Array) => { value: number; slope: Float64Array } | null;

export interface AscentBounds {
  readonly lower: ArrayLike<number>;
  readonly upper: ArrayLike<number>;
  readonly mostSteps: number;
  /** Gain of a step below which it is good enough. */
  readonly enough: number;
}

const GOOD_SHARE = 1e-4;
const SHORTEST = 1e-3;
/** Variables are logarithms: no step changes one by more than e^1.5. */
const LONGEST = 1.5;

/**
 * Local maximum between bounds by the quasi-Newton method of Broyden, Fletcher, Goldfarb and Shanno (Nocedal and Wright 2006, algorithm 6.1), steps cut off
 * at the bounds (Bertsekas 1982): variables at a bound that the slope pushes outwards are held. null: the start has no value.
 */
export function ascend(hill: Hill, start: ArrayLike<number>, bounds: AscentBounds): { x: Float64Array; value: number } | null {
  const { lower, upper, mostSteps, enough } = bounds;
  const inside = (x: Float64Array) => x.map((each, j) => Math.min(upper[j], Math.max(lower[j], each)));
  let x: Float64Array = inside(Float64Array.from(start));
  let here = hill(x);
  if (!here) return null;
  let metric = unit(x.length);
  for (let step = 0; step < mostSteps; step++) {
    const { value, slope } = here;
    const held = slope.map((each, j) => Number((x[j] <= lower[j] && each <= 0) || (x[j] >= upper[j] && each >= 0)));
    let way = times(metric, slope, held);
    if (product(way, slope) <= 0) {
      metric = unit(x.length);
      way = times(metric, slope, held);
    }
    const longest = way.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
    if (longest === 0) break;
    const next = climb(
      { hill, inside, x, value, slope },
      way.map((each) => each * Math.min(1, LONGEST / longest)),
    );
    if (!next) break;
    metric = updated(metric, { moved: next.moved, turned: slope.map((each, j) => each - next.here.slope[j]), first: step === 0 });
    x = next.x;
    here = next.here;
    if (here.value - value < enough) break;
  }
  return { x, value: here.value };
}

interface Place {
  hill: Hill;
  inside: (x: Float64Array) => Float64Array;
  x: Float64Array;
  value: number;
  slope: Float64Array;
}

/** The step, shortened until the value rises by a share of what the slope promises; null: it never does. */
function climb({ hill, inside, x, value, slope }: Place, way: Float64Array) {
  for (let share = 1; share > SHORTEST; share /= 3) {
    const next = inside(x.map((each, j) => each + share * way[j]));
    const moved = next.map((each, j) => each - x[j]);
    const here = hill(next);
    if (here && here.value > value + GOOD_SHARE * Math.max(0, product(moved, slope))) return { x: next, moved, here };
  }
  return null;
}

const unit = (n: number): Float64Array[] =>
  Array.from({ length: n }, (_, j) => Float64Array.from({ length: n }, (__, k) => Number(j === k)));
const product = (a: Float64Array, b: Float64Array): number => a.reduce((sum, each, j) => sum + each * b[j], 0);

/** Held variables neither move nor count. */
const times = (metric: readonly Float64Array[], slope: Float64Array, held: Float64Array): Float64Array =>
  slope.map((_, j) => (held[j] ? 0 : metric[j].reduce((sum, each, k) => sum + (held[k] ? 0 : each * slope[k]), 0)));

/** Inverse Hessian of minus the hill. The first is scaled by what the first step tells; a step along which it does not bend downwards tells nothing. */
function updated(
  metric: Float64Array[],
  { moved, turned, first }: { moved: Float64Array; turned: Float64Array; first: boolean },
): Float64Array[] {
  const bend = product(moved, turned);
  if (!(bend > 1e-12)) return metric;
  const scale = first ? bend / product(turned, turned) : 1;
  const known = metric.map((row) => row.map((each) => each * scale));
  const through = known.map((row) => product(row, turned));
  const share = (1 + product(turned, Float64Array.from(through)) / bend) / bend;
  return known.map((row, j) =>
    row.map((each, k) => each + share * moved[j] * moved[k] - (through[j] * moved[k] + moved[j] * through[k]) / bend),
  );
}
