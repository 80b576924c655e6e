import { describe, expect, it } from 'vitest';
import { response } from '../../worker/engine/impact/index.ts';
import { type MaterialAt, type MechanicalMaterial, materialAt } from '../../worker/engine/material-at.ts';

const soft: MechanicalMaterial = {
  densityGCm3: 1.1,
  modulusMPa: 60,
  referenceHz: 30,
  poisson: 0.45,
  lossFactor: 0.12,
  quasiStaticModulusMPa: null,
};
const at = (more: Partial<MechanicalMaterial>, askedC?: number): MaterialAt => {
  const found = materialAt({ ...soft, ...more }, askedC);
  if (found.kind === 'refused') throw new Error(found.message);
  return found;
};

describe('a material', () => {
  it('that tells no temperature is taken as it stands; slow loading then meets its long-term modulus', () => {
    const found = at({});
    expect(found).toMatchObject({ temperatureC: null, modulusMPa: 60, lossFactor: 0.12 });
    expect(found.quasiStaticMPa).toBe(found.relaxation.longTermMPa);
    expect(found.quasiStaticMPa).toBeLessThan(60);
  });

  it('with a table goes between its rows along log(modulus) and a straight loss factor, and is exact at each row', () => {
    const byTemperature = [
      { temperatureC: 0, modulusMPa: 90, lossFactor: 0.2 },
      { temperatureC: 20, modulusMPa: 40, lossFactor: 0.1 },
      { temperatureC: 40, modulusMPa: 30, lossFactor: 0.08 },
    ];
    expect(at({ byTemperature }, 10)).toMatchObject({
      temperatureC: 10,
      modulusMPa: expect.closeTo(60, 10),
      lossFactor: expect.closeTo(0.15, 12),
    });
    for (const { temperatureC, modulusMPa, lossFactor } of byTemperature)
      expect(at({ byTemperature }, temperatureC)).toMatchObject({
        modulusMPa: expect.closeTo(modulusMPa, 10),
        lossFactor: expect.closeTo(lossFactor, 12),
      });
    // not asked for: the record's own values
    expect(at({ byTemperature, temperatureC: 23 })).toMatchObject({ temperatureC: 23, modulusMPa: 60, lossFactor: 0.12 });
    // a modulus of its own for slow loading keeps its proportion
    expect(at({ byTemperature, quasiStaticModulusMPa: 45 }, 0).quasiStaticMPa).toBeCloseTo((45 * 90) / 60, 10);
  });

  it('with terms holds its storage modulus at the reference, whichever way the terms are given', () => {
    const times = [0.001, 0.01, 0.1];
    const byRatio = at({ lossFactor: null, relaxation: times.map((timeS, k) => ({ timeS, ratio: 0.1 * (k + 1) })) });
    expect(response(byRatio.relaxation, 30).storageMPa).toBeCloseTo(60, 10);
    expect(byRatio.relaxation.branches.map(({ ratio }) => ratio)).toEqual([0.1, 0.2, 0.3].map((ratio) => expect.closeTo(ratio, 12)));
    const { longTermMPa, branches } = byRatio.relaxation;
    const byModulus = at({
      lossFactor: null,
      relaxation: branches.map(({ timeS, ratio }) => ({ timeS, modulusMPa: ratio * longTermMPa })),
    });
    expect(byModulus.relaxation.longTermMPa).toBeCloseTo(longTermMPa, 9);
    byModulus.relaxation.branches.forEach(({ ratio }, k) => expect(ratio).toBeCloseTo(branches[k].ratio, 10));
  });

  it('with a loss factor beyond the model is refused by name', () => {
    expect(materialAt({ ...soft, lossFactor: 2 }, undefined)).toMatchObject({ kind: 'refused', code: 'loss-factor-too-high' });
  });
});
