import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sectionScales } from '../../../worker/engine/print/as-built.ts';
import { asBuilt } from '../../../worker/engine/print/index.ts';
import { graphOf, MATERIAL } from './samples.ts';

const TRIPOD = graphOf(
  [
    [0, 0, 0],
    [10, 0, 0],
    [0, 10, 0],
    [0, 0, 10],
  ],
  [
    [0, 1, 2, 1],
    [0, 2, 2],
    [0, 3, 3],
  ],
);

describe('a part as built', () => {
  it('is larger by 1 / (1 - shrinkage) along each axis, and by their product in volume', () => {
    const built = asBuilt(TRIPOD, 100, 5000, { ...MATERIAL, shrinkagePct: [2, 2.5, 4] });
    const [x, y, z] = [1 / 0.98, 1 / 0.975, 1 / 0.96];
    built.scale.forEach((scale, k) => expect(scale).toBeCloseTo([x, y, z][k], 12));
    built.outsideDiameterMm.forEach((d, k) => expect(d).toBeCloseTo(100 * [x, y, z][k], 9));
    expect(built.packingDiameterMm).toBeCloseTo(100 * z, 9);
    expect(built.volumeMm3).toBeCloseTo(5000 * x * y * z, 6);
    // The strut along x has sections scaled by y and z, its thin end 1 mm; the one along z by x and y.
    expect(built.strutDiameterMm.min).toBeCloseTo(1 * y, 9);
    expect(built.strutDiameterMm.max).toBeCloseTo(3 * y, 9);
  });

  it('is the part itself where nothing shrinks', () => {
    expect(asBuilt(TRIPOD, 100, 5000, MATERIAL)).toMatchObject({
      scale: [1, 1, 1],
      outsideDiameterMm: [100, 100, 100],
      strutDiameterMm: { min: 1, max: 3 },
      volumeMm3: 5000,
    });
  });

  it('has sections as measured on scaled points of the strut', () => {
    const angle = fc.integer({ min: 0, max: 628 }).map((hundredths) => hundredths / 100);
    const scale = fc.integer({ min: 1000, max: 1100 }).map((thousandths) => thousandths / 1000);
    fc.assert(
      fc.property(angle, angle, fc.tuple(scale, scale, scale), (polar, turn, scales) => {
        const along = [Math.sin(polar) * Math.cos(turn), Math.sin(polar) * Math.sin(turn), Math.cos(polar)] as const;
        const moved = along.map((x, k) => x * scales[k]);
        const length = Math.hypot(...moved);
        // Distances from the scaled axis of scaled points on the cylinder: two directions at right angles to the axis span its section.
        const e1 = [Math.cos(polar) * Math.cos(turn), Math.cos(polar) * Math.sin(turn), -Math.sin(polar)];
        const e2 = [-Math.sin(turn), Math.cos(turn), 0];
        let [low, high] = [Infinity, 0];
        for (let k = 0; k < 720; k++) {
          const [c, s] = [Math.cos((Math.PI * k) / 720), Math.sin((Math.PI * k) / 720)];
          const point = e1.map((x, axis) => (c * x + s * e2[axis]) * scales[axis]);
          const shift = point.reduce((sum, x, axis) => sum + (x * moved[axis]) / length, 0);
          const aside = Math.hypot(...point.map((x, axis) => x - (shift * moved[axis]) / length));
          [low, high] = [Math.min(low, aside), Math.max(high, aside)];
        }
        const found = sectionScales(along, scales);
        // Half steps of 1/720 of a half turn off the true axis: 5e-6 of the difference of the axes.
        expect(found[0]).toBeCloseTo(low, 5);
        expect(found[1]).toBeCloseTo(high, 5);
        expect(found[0] * found[1] * length).toBeCloseTo(scales[0] * scales[1] * scales[2], 9);
      }),
      { seed: 41, numRuns: 100 },
    );
  });
});
