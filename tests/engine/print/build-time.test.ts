import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Arrangement, arrange, buildTime } from '../../../worker/engine/print/index.ts';
import type { LayerProfile } from '../../../worker/engine/solid/index.ts';
import { MATERIAL, VOLUME } from './samples.ts';

const profileOf = (layerMm: number, zMinMm: number, areas: number[], contours = areas.map(() => 0)): LayerProfile => ({
  layerMm,
  zMinMm,
  areaMm2: Float64Array.from(areas),
  contourMm: Float64Array.from(contours),
});

const placedAt = (...heights: number[]): Arrangement => ({
  count: heights.length,
  name: 'by hand',
  centresMm: Float64Array.from(heights.flatMap((z) => [0, 0, z])),
  partDiameterMm: 10,
  spacingMm: 5,
  capped: false,
});

/** Ball of diameter d cut into layers: exact mean section of each. */
function ball(d: number, layerMm: number): LayerProfile {
  const r = d / 2;
  const below = (z: number) => Math.PI * (r * r * z - z ** 3 / 3);
  const count = Math.round(d / layerMm);
  const at = (i: number) => -r + i * layerMm;
  const areas = Array.from({ length: count }, (_, i) => (below(at(i + 1)) - below(at(i))) / layerMm);
  const contours = areas.map((_, i) => 2 * Math.PI * Math.sqrt(Math.max(0, r * r - ((at(i) + at(i + 1)) / 2) ** 2)));
  return profileOf(layerMm, -r, areas, contours);
}

describe('build time', () => {
  it('gives the worked example: 200 mm in 0.1 mm layers at 12 s, 400 cm3 at 5 m/s and 0.25 mm', () => {
    // Worked example of a published recoat-plus-scan calculator form, computed here: 6.67 h recoating, 0.89 h scanning.
    const volume = {
      ...VOLUME,
      recoatS: 12,
      minLayerS: 0,
      scanSpeedMmS: 5000,
      hatchMm: 0.25,
      coverMm: 0,
      warmUpHours: 0,
      coolDownHoursPerBuildHour: 0,
    };
    const prism = profileOf(0.1, -100, new Array(2000).fill(2000));
    const build = buildTime(prism, placedAt(100), MATERIAL, volume);
    expect(build.layerCount).toBe(2000);
    expect(build.heightMm).toBeCloseTo(200, 9);
    expect(build.recoatHours).toBeCloseTo((2000 * 12) / 3600, 12);
    expect(build.scanHours).toBeCloseTo(3200 / 3600, 9);
    expect(build.waitHours).toBe(0);
    expect(build.totalHours).toBeCloseTo(6.6667 + 0.8889, 3);
  });

  it('waits out short layers and counts powder below and above the parts as layers', () => {
    const volume = { ...VOLUME, layerMm: 1, coverMm: 5, recoatS: 10, minLayerS: 14, scanSpeedMmS: 100, hatchMm: 1, contourSpeedMmS: 50 };
    // Ten layers of 6 s (400 mm2 / 100 + 100 mm / 50), five empty ones on either side.
    const build = buildTime(profileOf(1, -5, new Array(10).fill(400), new Array(10).fill(100)), placedAt(10), MATERIAL, volume);
    expect(build.layerCount).toBe(20);
    expect(build.scanHours * 3600).toBeCloseTo(60, 9);
    expect(build.recoatHours * 3600).toBeCloseTo(200, 9);
    expect(build.waitHours * 3600).toBeCloseTo(10 * 4, 9);
    expect(build.coolDownHours * 3600).toBeCloseTo(300, 9);
    expect(build.totalHours).toBeCloseTo(2 + 600 / 3600, 9);
    expect(build.packingDensityPct).toBeCloseTo((100 * 4000) / (300 * 300 * 20), 9);
  });

  it('keeps the volume whatever the two layer thicknesses, the height and the shrinkage', () => {
    const percent = fc.integer({ min: 0, max: 50 }).map((tenths) => tenths / 10);
    const thickness = fc.integer({ min: 5, max: 90 }).map((hundredths) => hundredths / 100);
    fc.assert(
      fc.property(
        thickness,
        thickness,
        fc.tuple(percent, percent, percent),
        fc.array(thickness, { minLength: 1, maxLength: 4 }),
        (cut, layerMm, shrinkagePct, lifts) => {
          const profile = profileOf(cut, -3, [5, 0, 70, 20, 20, 90, 3]);
          const material = { ...MATERIAL, shrinkagePct };
          const volume = { ...VOLUME, layerMm, minLayerS: 0 };
          const build = buildTime(profile, placedAt(...lifts.map((lift) => 10 * lift + 5)), material, volume);
          const scale = shrinkagePct.reduce((product, s) => product / (1 - s / 100), 1);
          const volumeMm3 = lifts.length * 208 * cut * scale;
          // Time in mm3: scanning sweeps hatch * speed * thickness per second.
          expect(build.scanHours * 3600 * volume.hatchMm * volume.scanSpeedMmS * layerMm).toBeCloseTo(volumeMm3, 6);
          const cake = VOLUME.sizeMm[0] * VOLUME.sizeMm[1] * build.heightMm;
          expect((build.packingDensityPct * cake) / 100).toBeCloseTo(volumeMm3, 6);
        },
      ),
      { seed: 21 },
    );
  });

  it('agrees with adding every part to every layer by hand', () => {
    const volume = { ...VOLUME, layerMm: 0.5, minLayerS: 10.02 };
    const profile = ball(20, 0.5);
    const heights = [15, 15, 24, 41];
    const build = buildTime(profile, placedAt(...heights), MATERIAL, volume);
    let [scanS, waitS] = [0, 0];
    for (let layer = 0; layer < build.layerCount; layer++) {
      const inside = heights.map((z) => Math.round(layer - (z - 10) / 0.5)).filter((i) => i >= 0 && i < 40);
      const seconds = inside.reduce((sum, i) => sum + profile.contourMm[i] / 2000 + profile.areaMm2[i] / 800, 0);
      scanS += seconds;
      waitS += Math.max(0, 0.02 - seconds);
    }
    expect(build.layerCount).toBe((41 + 10 + 5) / 0.5);
    expect(build.scanHours * 3600).toBeCloseTo(scanS, 9);
    expect(build.waitHours * 3600).toBeCloseTo(waitS, 9);
  });

  it('scales: half the layer is twice the layers, twice the speed half the scanning, twice the parts twice the scanning', () => {
    const profile = ball(30, 0.1);
    const base = buildTime(profile, placedAt(30), MATERIAL, VOLUME);
    const fine = buildTime(profile, placedAt(30), MATERIAL, { ...VOLUME, layerMm: VOLUME.layerMm / 2 });
    expect(fine.layerCount).toBe(2 * base.layerCount);
    expect(fine.recoatHours).toBeCloseTo(2 * base.recoatHours, 9);
    const fast = { ...VOLUME, scanSpeedMmS: 2 * VOLUME.scanSpeedMmS, contourSpeedMmS: 2 * VOLUME.contourSpeedMmS };
    expect(buildTime(profile, placedAt(30), MATERIAL, fast).scanHours).toBeCloseTo(base.scanHours / 2, 9);
    const two = buildTime(profile, placedAt(30, 30), MATERIAL, VOLUME);
    expect(two.scanHours).toBeCloseTo(2 * base.scanHours, 9);
    expect(two.recoatHours).toBe(base.recoatHours);
    expect(two.packingDensityPct).toBeCloseTo(2 * base.packingDensityPct, 9);
  });

  it('builds a shrinking part larger: 1 / (1 - s) along every axis', () => {
    const profile = ball(100, 0.1);
    const shrinking = { ...MATERIAL, shrinkagePct: [2, 2, 4] as const };
    const volume = { ...VOLUME, coverMm: 0 };
    const [plain, grown] = [MATERIAL, shrinking].map((material) => buildTime(profile, placedAt(60), material, volume));
    expect(plain.heightMm).toBeCloseTo(110, 9);
    expect(grown.layerCount).toBe(Math.ceil((60 + 50 / 0.96) / 0.1));
    const ratio = (grown.packingDensityPct * grown.heightMm) / (plain.packingDensityPct * plain.heightMm);
    expect(ratio).toBeCloseTo(1 / (0.98 * 0.98 * 0.96), 9);
  });

  it('lengthens the contours of a shrinking part by 1 / (1 - s), and its number of layers', () => {
    const ring = profileOf(1, 0, new Array(90).fill(0), new Array(90).fill(1000));
    const volume = { ...VOLUME, layerMm: 1, coverMm: 0 };
    const build = buildTime(ring, placedAt(0), { ...MATERIAL, shrinkagePct: [20, 20, 10] }, volume);
    expect(build.layerCount).toBe(100);
    expect(build.scanHours * 3600 * volume.contourSpeedMmS).toBeCloseTo((1000 / 0.8) * 100, 6);
  });

  it('does not gain a layer by rounding', () => {
    // 3 * 0.1 / 0.1 is 3.0000000000000004.
    expect(buildTime(profileOf(0.1, 0, new Array(3).fill(1)), placedAt(0), MATERIAL, { ...VOLUME, coverMm: 0 }).layerCount).toBe(3);
  });

  it('of a full chamber ends below its lid', () => {
    const profile = ball(67, 0.1);
    const material = { ...MATERIAL, shrinkagePct: [2.5, 2.5, 2.5] as const };
    const build = buildTime(profile, arrange(67, material, VOLUME), material, VOLUME);
    expect(build.partsPerBuild).toBeGreaterThan(60);
    expect(build.heightMm).toBeLessThanOrEqual(400);
    expect(build.packingDensityPct).toBeLessThan(100 * 0.7405);
  });

  it('of nothing is nothing', () => {
    const build = buildTime(ball(500, 1), arrange(500, MATERIAL, VOLUME), MATERIAL, VOLUME);
    expect(build).toMatchObject({ fits: false, partsPerBuild: 0, layerCount: 0, heightMm: 0, totalHours: 0, packingDensityPct: 0 });
  });
});
