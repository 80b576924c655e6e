import { describe, expect, it } from 'vitest';
import { arrangements, type BuildVolume, buildCost, buildTime, type CostPoint, costCurve } from '../../../worker/engine/print/index.ts';
import type { LayerProfile } from '../../../worker/engine/solid/index.ts';
import { MATERIAL, VOLUME } from './samples.ts';

const MASS_G = 60;
/** Sums over some thousand layers, in different orders. */
const ROUNDING = 1e-9;
const profileOf = (heightMm: number): LayerProfile => {
  const count = Math.round(heightMm / 0.1);
  return { layerMm: 0.1, zMinMm: -heightMm / 2, areaMm2: new Float64Array(count).fill(500), contourMm: new Float64Array(count).fill(700) };
};

function curveOf(diameter: number, volume = VOLUME): CostPoint[] {
  const outcome = costCurve({ profile: profileOf(diameter), massG: MASS_G }, arrangements(diameter, MATERIAL, volume), MATERIAL, volume);
  if (outcome.kind !== 'done') throw new Error(outcome.fault.message);
  return outcome.curve;
}

const ROUND = { ...VOLUME, sizeMm: [600, 600, 500] as const };

describe('cost by number of parts', () => {
  it('has every number from one part to a full build, with the cost of a build of so many', () => {
    const all = arrangements(162.3, MATERIAL, ROUND);
    const curve = curveOf(162.3, ROUND);
    expect(curve.map(({ parts }) => parts)).toEqual(Array.from({ length: all.most }, (_, i) => i + 1));
    for (const point of [curve[0], curve[7], curve[all.most - 1]]) {
      const build = buildTime(profileOf(162.3), all.take(point.parts), MATERIAL, ROUND);
      const outcome = buildCost(build, MASS_G, MATERIAL, ROUND);
      expect(point).toEqual({
        parts: point.parts,
        heightMm: build.heightMm,
        totalHours: build.totalHours,
        totalPerPart: outcome.kind === 'done' && outcome.cost?.totalPerPart,
      });
    }
  });

  it('is a saw: it falls while the height stays, and rises where the next part needs a higher build', () => {
    const curve = curveOf(162.3, ROUND);
    const steps = curve.slice(1).map((point, i) => ({ from: curve[i], to: point }));
    const level = steps.filter(({ from, to }) => to.heightMm === from.heightMm);
    expect(level.length).toBeGreaterThan(10);
    for (const { from, to } of level) expect(to.totalPerPart.amount).toBeLessThan(from.totalPerPart.amount);
    expect(steps.some(({ from, to }) => to.totalPerPart.amount > from.totalPerPart.amount)).toBe(true);
    for (const { from, to } of steps) {
      expect(to.heightMm).toBeGreaterThanOrEqual(from.heightMm);
      // Short sections fit into the layer minimum, so a part more may take no more time.
      expect(to.totalHours).toBeGreaterThan(from.totalHours * (1 - ROUNDING));
      // The whole build never costs less with one part more.
      expect(to.parts * to.totalPerPart.amount).toBeGreaterThan(from.parts * from.totalPerPart.amount * (1 - ROUNDING));
    }
  });

  it('is thinned for many parts, with one, all, and the largest jump from both sides', () => {
    const all = arrangements(40, MATERIAL, VOLUME);
    const parts = curveOf(40).map((point) => point.parts);
    expect(all.most).toBeGreaterThan(300);
    expect(parts.length).toBeLessThanOrEqual(40);
    expect(parts.length).toBeGreaterThan(25);
    expect([parts[0], parts[parts.length - 1]]).toEqual([1, all.most]);
    expect(parts).toEqual([...new Set(parts)].sort((a, b) => a - b));
    let jump = 1;
    for (let n = 1; n < all.most; n++) if (all.topOf(n + 1) / all.topOf(n) > all.topOf(jump + 1) / all.topOf(jump)) jump = n;
    expect(parts).toEqual(expect.arrayContaining([jump, jump + 1]));
  });

  it('is empty when no part fits, and does not add two currencies', () => {
    expect(curveOf(500)).toEqual([]);
    const rate = { ...VOLUME, hourlyRate: { amount: 25, currency: 'CHF' } };
    const outcome = costCurve({ profile: profileOf(100), massG: MASS_G }, arrangements(100, MATERIAL, rate), MATERIAL, rate);
    expect(outcome).toMatchObject({ kind: 'fault', fault: { code: 'currency-mismatch' } });
  });

  it('redoes a worked recoat-plus-scan example with its cost, and explains what the full model adds', () => {
    // 200 mm at 0.1 mm and 12 s: 6.667 h; 400 cm3 at 5 m/s and 0.25 mm: 0.889 h; at 29.08 an hour (a published sum of rates, from memory) 219.7.
    const volume = {
      ...VOLUME,
      sizeMm: [220, 220, 200] as const,
      partSpacingMm: 0,
      recoatS: 12,
      minLayerS: 0,
      scanSpeedMmS: 5000,
      hatchMm: 0.25,
      coverMm: 0,
      warmUpHours: 0,
      setUpHours: 0,
      coolDownHoursPerBuildHour: 0,
      hourlyRate: { amount: 29.08, currency: 'EUR' },
    };
    const profile = { layerMm: 0.1, zMinMm: -100, areaMm2: new Float64Array(2000).fill(2000), contourMm: new Float64Array(2000) };
    const costOf = (given: BuildVolume, shape: LayerProfile = profile) => {
      const build = buildTime(shape, arrangements(200, MATERIAL, given).take(1), MATERIAL, given);
      const outcome = buildCost(build, 400, MATERIAL, given);
      if (outcome.kind !== 'done' || !outcome.cost) throw new Error('no cost');
      return { hours: build.totalHours, machine: outcome.cost.machineCostPerPart.amount };
    };
    const plain = costOf(volume);
    expect(plain.hours).toBeCloseTo(6.6667 + 0.8889, 3);
    expect(plain.machine).toBeCloseTo((6.6667 + 0.8889) * 29.08, 1);
    // The calculator's form knows no contour, no powder above and below, no cooling in the chamber; each adds what its sentence says.
    const contour = { ...profile, contourMm: new Float64Array(2000).fill(1500) };
    expect(costOf(volume, contour).hours - plain.hours).toBeCloseTo((2000 * 1500) / 2000 / 3600, 9);
    const covered = { ...volume, sizeMm: [220, 220, 210] as const, coverMm: 5 };
    expect(costOf(covered).hours - plain.hours).toBeCloseTo((100 * 12) / 3600, 9);
    expect(costOf({ ...volume, coolDownHoursPerBuildHour: 1 }).hours).toBeCloseTo(2 * plain.hours, 9);
  });
});
