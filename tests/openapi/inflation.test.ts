import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { estimatesOf, inflationEstimates, REFERENCES } from '../../openapi/index.ts';

const ball = (radiusMm: number, pressureBar: number, massG: number, dropHeightMm: number | null = null) => ({
  targets: [
    { quantity: 'outsideDiameterMm', target: 2 * radiusMm },
    { quantity: 'massG', min: massG - 10, max: massG + 10 },
  ],
  inflation: { pressureBar },
  dropHeightMm,
});

describe('estimates of an inflated sphere', () => {
  it('are those of the worked example: R 0.11 m, 0.8 bar, 0.43 kg give 55 N/mm per face and 8.8 ms', () => {
    const { stiffnessNPerMm, contactTimeMs, peakForceN, inertiaGMm2 } = estimatesOf(ball(110, 0.8, 430))!;
    // The example is printed with two digits.
    expect(Math.round(stiffnessNPerMm.value)).toBe(55);
    expect(contactTimeMs.value.toFixed(1)).toBe('8.8');
    expect(inertiaGMm2.value).toBeCloseTo((2 / 3) * 430 * 110 * 110, 6);
    expect(peakForceN).toBeNull();
  });

  it('have a peak force whose half sine over the contact turns the speed of the drop round', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 200 }), fc.integer({ min: 50, max: 1000 }), fc.integer({ min: 100, max: 3000 }), (r, m, h) => {
        const { contactTimeMs, peakForceN } = estimatesOf(ball(r, 0.5, m, h))!;
        // Impulse of a half sine: 2 F t / pi; momentum before and after: 2 m v. Rounding of a few operations.
        const impulse = (2 * peakForceN!.value * (contactTimeMs.value / 1000)) / Math.PI;
        const momentum = 2 * (m / 1000) * Math.sqrt(2 * 9.80665 * (h / 1000));
        expect(impulse / momentum).toBeCloseTo(1, 12);
      }),
    );
  });

  it('take the size from a circumference too, and the middle of a band where there is no target', () => {
    const targets = [
      { quantity: 'circumferenceMm', min: 2 * Math.PI * 110 - 7, max: 2 * Math.PI * 110 + 7 },
      { quantity: 'massG', min: 400, target: 430, max: 500 },
    ];
    const estimates = estimatesOf({ targets, inflation: { pressureBar: 0.8 }, dropHeightMm: null })!;
    expect(estimates.stiffnessNPerMm.value).toBeCloseTo(estimatesOf(ball(110, 0.8, 430))!.stiffnessNPerMm.value, 10);
  });

  it('are none without a pressure, a mass or a size, or with half a band only', () => {
    const whole = ball(110, 0.8, 430);
    expect(estimatesOf({ ...whole, inflation: null })).toBeUndefined();
    for (const { quantity } of whole.targets)
      expect(estimatesOf({ ...whole, targets: whole.targets.filter((each) => each.quantity !== quantity) }), quantity).toBeUndefined();
    expect(estimatesOf({ ...whole, targets: [whole.targets[0], { quantity: 'massG', max: 440 }] })).toBeUndefined();
    expect(estimatesOf({ ...whole, targets: [whole.targets[0], { quantity: 'massG', target: 0 }] })).toBeUndefined();
  });

  it('are each labelled, with formula and caution', () => {
    const estimates = inflationEstimates.parse(estimatesOf(ball(110, 0.8, 430, 2000)));
    for (const [name, each] of Object.entries(estimates))
      expect([each!.label, each!.formula.includes('='), each!.caution.length > 10], name).toEqual(['estimate', true, true]);
  });

  it('stand beside every built-in reference whose pressure is known, and no other', () => {
    for (const { key, inflation, estimates } of REFERENCES) expect(estimates !== undefined, key).toBe(inflation !== null);
  });
});
