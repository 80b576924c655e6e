/** What is varied: a number (null), or one of these choices, given by its place. */
export interface Factor {
  readonly choices: readonly unknown[] | null;
}

/** An axis of the space that surfaces are fitted in, from 0 to 1: a number over its range, or whether a choice is taken. */
export interface Axis {
  readonly factor: number;
  readonly min: number;
  readonly max: number;
  /** Place of the choice; null: a number. */
  readonly choice: number | null;
}

/** An axis for each number that differs, and one for each choice that some rows take and others do not. */
export function axesOf(factors: readonly Factor[], rows: readonly (readonly number[])[]): Axis[] {
  return factors.flatMap(({ choices }, factor): Axis[] => {
    const taken = [...new Set(rows.map((row) => row[factor]))].sort((a, b) => a - b);
    if (taken.length < 2) return [];
    if (choices) return taken.map((choice) => ({ factor, min: 0, max: 1, choice }));
    return [{ factor, min: taken[0], max: taken[taken.length - 1], choice: null }];
  });
}

export const placeOf = (axes: readonly Axis[], row: readonly number[]): Float64Array =>
  Float64Array.from(axes, ({ factor, min, max, choice }) =>
    choice === null ? (row[factor] - min) / (max - min) : Number(row[factor] === choice),
  );

/** Whether a row takes no choice that these rows never took, and leaves what they all had as it was. */
export function isKnownTo(factors: readonly Factor[], rows: readonly (readonly number[])[]): (row: readonly number[]) => boolean {
  const taken = factors.map((_, factor) => new Set(rows.map((row) => row[factor])));
  return (row) => factors.every(({ choices }, factor) => (!choices && taken[factor].size > 1) || taken[factor].has(row[factor]));
}
