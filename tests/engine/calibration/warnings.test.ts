import { expect, it } from 'vitest';
import { warningsOf } from '../../../worker/engine/calibrating.ts';

it('warns of data that the record was calibrated from already, and of a fit that had not settled', () => {
  const observations = Array.from({ length: 3 }, () => ({
    ...{ measurementId: 'm', version: 0, quantity: 'massG', value: 1, scatterPct: 1, biasPct: 1, instrument: '' },
  }));
  const codes = (usedBefore: number | undefined, converged: boolean) =>
    warningsOf({ observations, ...(usedBefore !== undefined && { usedBefore }) }, { converged }).map(({ code }) => code);
  expect(codes(undefined, true)).toEqual([]);
  expect(codes(2, true)).toEqual(['data-used-twice']);
  expect(codes(2, false)).toEqual(['fit-not-settled', 'data-used-twice']);
  expect(warningsOf({ observations, usedBefore: 2 }, { converged: true })[0].message).toMatch(
    /^2 of 3 observations .* intervals are too narrow/,
  );
});
