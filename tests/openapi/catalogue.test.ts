import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import {
  BUILD_VOLUMES,
  buildVolume,
  buildVolumeBody,
  MATERIALS,
  material,
  materialBody,
  REFERENCES,
  reference,
  referenceBody,
} from '../../openapi/index.ts';

const byKey = <T extends { key: string }>(records: readonly T[], key: string): T => records.find((each) => each.key === key)!;
const RULE_BODIES = /IHF|FIFA|IFAB|FIVB|ITF/;

describe.each([
  ['materials', MATERIALS, material, materialBody, ['tpu-soft', 'tpu-firm', 'peba', 'pa12']],
  ['build volumes', BUILD_VOLUMES, buildVolume, buildVolumeBody, ['small-polymer', 'medium-polymer', 'large-polymer']],
  [
    'references',
    REFERENCES,
    reference,
    referenceBody,
    [
      ...['handball-size-0', 'handball-size-1', 'handball-size-2', 'handball-size-3'],
      ...['football-size-4', 'football-size-5', 'futsal', 'volleyball', 'tennis'],
    ],
  ],
] as [string, readonly { key: string }[], z.ZodType, z.ZodType, string[]][])('built-in %s', (_, records, schema, body, keys) => {
  it('are the ones promised', () => {
    expect(records.map((each) => each.key)).toEqual(keys);
  });

  it.each(records.map((each) => [each.key, each] as const))('%s keeps to its schema, as answered and as posted', (__, record) => {
    expect(schema.parse(record)).toEqual(record);
    const { builtIn, revision, ...posted } = record as unknown as { builtIn: boolean; revision: number };
    expect({ builtIn, revision }).toEqual({ builtIn: true, revision: 1 });
    expect(body.parse(posted)).toEqual(posted);
  });
});

describe('sources', () => {
  it.each([...MATERIALS, ...BUILD_VOLUMES].map((each) => [each.key, each] as const))('%s has one for every value', (_, record) => {
    const labels = new Set(['key', 'revision', 'builtIn', 'family', 'source']);
    const values = Object.entries(record).filter(([name, value]) => !labels.has(name) && value !== null);
    expect(values.map(([name]) => name).filter((name) => !record.source[name])).toEqual([]);
  });

  it.each(REFERENCES.map((each) => [each.key, each] as const))(
    '%s says where it comes from, and nowhere else who made the rule',
    (_, each) => {
      for (const text of [each.source, each.edition, each.status]) expect(text).not.toBe('');
      expect(each.key + each.edition + each.status).not.toMatch(RULE_BODIES);
    },
  );
});

// The fixed points of the contract: numbers that others compare with.
it('tpu-soft and medium-polymer are exactly those of the contract', () => {
  expect(byKey(MATERIALS, 'tpu-soft')).toMatchObject({
    ...{ family: 'TPU', densityGCm3: 1.1, modulusMPa: 60, referenceHz: 30, poisson: 0.45, lossFactor: 0.12, quasiStaticModulusMPa: null },
    ...{ maxStrainPct: 25, strainLife: { coefficientPct: 60, exponent: -0.12 }, bulkDensityGCm3: 0.5, virginSharePct: 50 },
    ...{ pricePerKg: { amount: 90, currency: 'EUR' }, minStrutMm: 1, minGapMm: 1, minOpeningMm: 3.5, shrinkagePct: [2.5, 2.5, 2.5] },
  });
  expect(byKey(BUILD_VOLUMES, 'medium-polymer')).toMatchObject({
    ...{ sizeMm: [300, 300, 400], wallMarginMm: 10, partSpacingMm: 5, layerMm: 0.1, recoatS: 10, minLayerS: 12, scanSpeedMmS: 4000 },
    ...{ contourSpeedMmS: 2000, hatchMm: 0.2, warmUpHours: 2, coverMm: 5, coolDownHoursPerBuildHour: 1 },
    ...{ hourlyRate: { amount: 25, currency: 'EUR' }, setUpHours: 0.5 },
  });
  expect(byKey(REFERENCES, 'handball-size-1')).toMatchObject({
    targets: [
      { quantity: 'massG', min: 290, target: 310, max: 330 },
      { quantity: 'circumferenceMm', min: 500, max: 520 },
    ],
    ...{ inflation: { pressureBar: 0.4 }, dropHeightMm: null, peakForceN: null },
  });
});

// Published ranges of sintered polymers, by class: density g/cm3, modulus MPa, Poisson's ratio, loss factor.
const RANGES = {
  TPU: [1.05, 1.2, 10, 100, 0.35, 0.49, 0.05, 0.2],
  PEBA: [0.98, 1.06, 20, 120, 0.45, 0.48, 0.03, 0.1],
  PA12: [0.93, 1.02, 1500, 1850, 0.38, 0.41, 0.03, 0.08],
} as Record<string, number[]>;
it.each(MATERIALS.map((each) => [each.key, each] as const))('%s lies inside the ranges of its class', (_, each) => {
  const range = RANGES[each.family];
  [each.densityGCm3, each.modulusMPa, each.poisson, each.lossFactor ?? Number.NaN].forEach((value, k) => {
    expect(value).toBeGreaterThanOrEqual(range[2 * k]);
    expect(value).toBeLessThanOrEqual(range[2 * k + 1]);
  });
});
