import { describe, expect, it } from 'vitest';
import { type BuildEstimate, buildCost, type CostOutcome } from '../../../worker/engine/print/index.ts';
import { MATERIAL, VOLUME } from './samples.ts';

const build: BuildEstimate = {
  fits: true,
  partsPerBuild: 4,
  arrangement: 'by hand',
  heightMm: 200,
  layerCount: 2000,
  scanHours: 1,
  recoatHours: 7,
  waitHours: 0,
  warmUpHours: 2,
  coolDownHours: 8,
  totalHours: 18,
  packingDensityPct: 5,
  assumptions: [],
};

const costOf = (outcome: CostOutcome) => {
  if (outcome.kind !== 'done' || outcome.cost === null) throw new Error('no cost');
  return outcome.cost;
};

describe('cost of a full build', () => {
  it('follows its sentences', () => {
    const cost = costOf(buildCost(build, 300, MATERIAL, VOLUME));
    // 300 x 300 x 200 mm at 0.5 g/cm3 is 9 kg; half of it virgin at 90 a kilogram; (18 + 0.5) h at 25; four parts.
    expect(cost.powderKgPerBuild).toBeCloseTo(9, 12);
    expect(cost.virginPowderKgPerBuild).toBeCloseTo(4.5, 12);
    expect(cost.powderCostPerPart.amount).toBeCloseTo((4.5 * 90) / 4, 12);
    expect(cost.machineCostPerPart.amount).toBeCloseTo((18.5 * 25) / 4, 12);
    expect(cost.totalPerPart.amount).toBeCloseTo(cost.powderCostPerPart.amount + cost.machineCostPerPart.amount, 12);
    expect(cost.totalPerPart.currency).toBe('EUR');
  });

  it('buys at least what is sintered and lost, whatever the refresh ratio', () => {
    const none = { ...MATERIAL, virginSharePct: 0 };
    expect(costOf(buildCost(build, 300, none, VOLUME)).virginPowderKgPerBuild).toBeCloseTo(4 * 0.3 * 1.05, 12);
    expect(costOf(buildCost(build, 2000, MATERIAL, VOLUME)).virginPowderKgPerBuild).toBeCloseTo(4 * 2 * 1.05, 12);
  });

  it('falls with every part more, and rises with price and rate', () => {
    const total = (parts: number, material = MATERIAL, volume = VOLUME) =>
      costOf(buildCost({ ...build, partsPerBuild: parts }, 300, material, volume)).totalPerPart.amount;
    for (let parts = 1; parts < 12; parts++) expect(total(parts + 1)).toBeLessThan(total(parts));
    expect(total(4, { ...MATERIAL, pricePerKg: { amount: 91, currency: 'EUR' } })).toBeGreaterThan(total(4));
    expect(total(4, MATERIAL, { ...VOLUME, hourlyRate: { amount: 26, currency: 'EUR' } })).toBeGreaterThan(total(4));
  });

  it('does not add two currencies', () => {
    const outcome = buildCost(build, 300, MATERIAL, { ...VOLUME, hourlyRate: { amount: 25, currency: 'CHF' } });
    expect(outcome).toMatchObject({
      kind: 'fault',
      fault: { code: 'currency-mismatch', details: { pricePerKgCurrency: 'EUR', hourlyRateCurrency: 'CHF' } },
    });
    expect(outcome.kind === 'fault' && outcome.fault.message).toContain('EUR');
  });

  it('is none when no part fits', () => {
    expect(buildCost({ ...build, partsPerBuild: 0 }, 300, MATERIAL, VOLUME)).toEqual({ kind: 'done', cost: null });
  });
});
