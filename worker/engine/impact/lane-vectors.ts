import type { LaneProgram, Lanes } from '../lanes/index.ts';

/** Three components in two lanes. */
export type LaneVector = readonly [Lanes, Lanes, Lanes];

/** Vector algebra over lanes, so that a program reads as its formulas do. */
export function vectorsOf({ add, sub, mul }: LaneProgram) {
  const sum = (first: Lanes, ...rest: readonly Lanes[]): Lanes => rest.reduce(add, first);
  const dot = (a: LaneVector, b: LaneVector): Lanes => sum(mul(a[0], b[0]), mul(a[1], b[1]), mul(a[2], b[2]));
  return {
    sum,
    dot,
    plus: (a: LaneVector, b: LaneVector): LaneVector => [add(a[0], b[0]), add(a[1], b[1]), add(a[2], b[2])],
    minus: (a: LaneVector, b: LaneVector): LaneVector => [sub(a[0], b[0]), sub(a[1], b[1]), sub(a[2], b[2])],
    times: (factor: Lanes, a: LaneVector): LaneVector => [mul(factor, a[0]), mul(factor, a[1]), mul(factor, a[2])],
    cross: (a: LaneVector, b: LaneVector): LaneVector => [
      sub(mul(a[1], b[2]), mul(a[2], b[1])),
      sub(mul(a[2], b[0]), mul(a[0], b[2])),
      sub(mul(a[0], b[1]), mul(a[1], b[0])),
    ],
    /** Rows of a matrix times a vector. */
    turned: (rows: readonly LaneVector[], a: LaneVector): LaneVector => [dot(rows[0], a), dot(rows[1], a), dot(rows[2], a)],
  };
}

export type Vectors = ReturnType<typeof vectorsOf>;
