import type { FreeNumber } from './problem.ts';

/** The free numbers as the solver sees them: logarithms where a number is positive, since quantities go with powers of them. */
export interface Space {
  readonly start: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** The numbers there, rounded to what can be asked for; and as they are. */
  numbersAt(u: ArrayLike<number>): number[];
  exactlyAt(u: ArrayLike<number>): number[];
  placeOf(numbers: readonly number[]): Float64Array;
  /** The nearest place that can be asked for. */
  snap(u: Float64Array): Float64Array;
  /** Step of a difference: far above what rounding of lengths makes of it, well below where powers bend. */
  differenceStep(u: number, j: number): number;
}

const STEP = 0.03;
/** Numbers are asked for in as many digits. */
const DIGITS = 6;

export function spaceOf(numbers: readonly FreeNumber[]): Space {
  const into = ({ min, max }: FreeNumber, value: number) => (min > 0 ? Math.log(value) : value / (max - min));
  const back = ({ min, max }: FreeNumber, u: number) => (min > 0 ? Math.exp(u) : u * (max - min));
  const rounded = (each: FreeNumber, value: number): number => {
    const { min, max, step } = each;
    const to = step === undefined ? Number(value.toPrecision(DIGITS)) : min + Math.round((value - min) / step) * step;
    return Math.min(max, Math.max(min, Number(to.toPrecision(12))));
  };
  const numbersAt = (u: ArrayLike<number>) => numbers.map((each, j) => rounded(each, back(each, u[j])));
  const placeOf = (values: readonly number[]) => Float64Array.from(numbers, (each, j) => into(each, values[j]));
  return {
    start: placeOf(numbers.map((each) => rounded(each, each.start))),
    lower: placeOf(numbers.map(({ min }) => min)),
    upper: placeOf(numbers.map(({ max }) => max)),
    numbersAt,
    exactlyAt: (u) => numbers.map((each, j) => back(each, u[j])),
    placeOf,
    snap: (u) => placeOf(numbersAt(u)),
    differenceStep: (u, j) => {
      const each = numbers[j];
      if (each.step === undefined) return STEP;
      return Math.max(STEP, Math.abs(into(each, back(each, u) + 1.001 * each.step) - u));
    },
  };
}
