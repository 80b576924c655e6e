import { expect, it } from 'vitest';
import { estimatesOf } from '../../openapi/index.ts';
import { inflatedPeakForce } from '../../worker/engine/inflated.ts';

it('an inflated ball pushes as the estimate of a reference says, for the same mass, size, pressure and height', () => {
  const targets = [
    { quantity: 'massG', target: 310 },
    { quantity: 'outsideDiameterMm', target: 162 },
  ];
  const force = inflatedPeakForce({ pressureBar: 0.4, massG: 310, diameterMm: 162, dropHeightMm: 1800 });
  // the same formula written in another room, in other units
  expect(force).toBeCloseTo(estimatesOf({ targets, inflation: { pressureBar: 0.4 }, dropHeightMm: 1800 })!.peakForceN!.value, 9);
});
