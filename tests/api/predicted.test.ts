import { describe, expect, it } from 'vitest';
import { evidenceOf, summaryOf } from '../../api/evidence.ts';
import { finishingAdds, predictionOf } from '../../api/predicted.ts';
import type { FinishingStep, MeasuredValues, Result } from '../../openapi/index.ts';
import type { MeasurementRecord } from '../../prisma/index.ts';

const quantiles = (min: number, max: number) => [
  { share: 0.025, value: min, error: 0 },
  { share: 0.975, value: max, error: 0 },
];
/** The few numbers of a result that a prediction is made of. */
const result = {
  massProperties: { massG: 300 },
  stiffness: { secantNPerMm: 20 },
  rebound: { peakForceN: 800, contactTimeMs: 14, restitution: { mean: 0.79 } },
  joints: { bandPct: 5 },
  life: { cyclesToFailure: 5000, cyclesBand: { min: 1000, max: 25_000 } },
  motion: { roll: { deviationMm: { mean: 40, quantiles: quantiles(5, 90) } } },
  variation: {
    quantities: { 'massProperties.massG': { quantiles: quantiles(293, 309) }, 'stiffness.secantNPerMm': { quantiles: quantiles(18, 23) } },
  },
} as unknown as Result;

describe('a prediction', () => {
  it('has the band of printed parts, about the number itself', () => {
    expect(predictionOf(result, 'massG')).toEqual({ predicted: 300, band: { min: 293, max: 309, of: ['variation'] } });
  });
  it('adds what joints leave open: all of it to stiffness, half of it to the force and the time of a bounce', () => {
    expect(predictionOf(result, 'stiffnessNPerMm')).toEqual({ predicted: 20, band: { min: 17, max: 24, of: ['variation', 'joints'] } });
    expect(predictionOf(result, 'peakForceN')!.band).toEqual({ min: 780, max: 820, of: ['joints'] });
    expect(predictionOf(result, 'restitution')).toEqual({ predicted: 0.79, band: null });
  });
  it('adds what the calibration of its material leaves open', () => {
    const calibrated = [{ quantity: 'massProperties.massG', low: 297, high: 303 }];
    expect(predictionOf({ ...result, calibrated } as Result, 'massG')!.band).toEqual({
      min: 290,
      max: 312,
      of: ['variation', 'calibration'],
    });
  });
  it('of life and of rolling has the scatter that their results tell', () => {
    expect(predictionOf(result, 'cyclesToFailure')!.band).toEqual({ min: 1000, max: 25_000, of: ['life'] });
    expect(predictionOf(result, 'rollDeviationMm')!.band).toEqual({ min: 5, max: 90, of: ['starts'] });
  });
  it('is none where no result has the number, or this one has it not', () => {
    expect(predictionOf(result, 'roundnessMm')).toBeNull();
    expect(predictionOf(result, 'circumferenceMm')).toBeNull();
  });
});

it('finishing adds its mass, and twice what it adds to the surface', () => {
  const step = { kind: 'smoothing', method: '', surface: '' } as const;
  const steps: FinishingStep[] = [
    { ...step, massChangeG: 0.4, surfaceChangeMm: 0.05 },
    { ...step, massChangeG: null, surfaceChangeMm: null },
    { ...step, massChangeG: -1, surfaceChangeMm: 0 },
  ];
  expect(finishingAdds('massG', steps)).toBeCloseTo(-0.6, 12);
  expect(finishingAdds('outsideDiameterMm', steps)).toBeCloseTo(0.1, 12);
  expect(finishingAdds('circumferenceMm', steps)).toBeCloseTo(Math.PI * 0.1, 12);
  expect(finishingAdds('restitution', steps)).toBe(0);
});

describe('evidence', () => {
  const record = (serial: string, quantities: MeasuredValues['quantities'], conditions = {}) =>
    ({ print: { serial }, values: { quantities, conditions } }) as unknown as MeasurementRecord;

  it('counts each part once, by the mean of all its readings', () => {
    const records = [record('a', { massG: [300, 302] }), record('b', { massG: [310] }), record('a', { massG: [304] }), record('b', {})];
    const evidence = evidenceOf(records, 'massG', {});
    expect(evidence.parts).toEqual([
      { serial: 'a', value: 302, readings: 3 },
      { serial: 'b', value: 310, readings: 1 },
    ]);
    expect(summaryOf(evidence)).toMatchObject({ prints: 2, readings: 4, mean: 306, deviation: Math.sqrt(32), min: 302, max: 310 });
  });

  it('leaves out, and counts, what was measured under other conditions', () => {
    const records = [1800, 1810, 2000].map((dropHeightMm, k) => record(`p${k}`, { reboundHeightMm: [1000, 1001] }, { dropHeightMm }));
    expect(evidenceOf(records, 'reboundHeightMm', { dropHeightMm: 1800 })).toMatchObject({ parts: [{}, {}], leftOut: 2 });
    expect(evidenceOf(records, 'reboundHeightMm', {}).parts).toHaveLength(3);
  });

  it('names a part that is far from the others, and keeps it', () => {
    const parts = [300.1, 300.4, 299.8, 300.2, 312].map((massG, k) => record(`p${k}`, { massG: [massG] }));
    expect(summaryOf(evidenceOf(parts, 'massG', {}))).toMatchObject({ prints: 5, max: 312, outliers: ['p4'] });
  });
});
