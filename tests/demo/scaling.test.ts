import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FIRST_GUESS } from './brief.ts';
import { nextStep, type Trial } from './scaling.ts';

const WANTED = { massG: 310, circumferenceMm: { min: 500, max: 520 } };
/** Diameters are rounded to 0.01 mm; at 3 mm that is half of 1/300, and twice as much in a mass that goes with the square. */
const ROUNDING = 2 * (0.005 / 2.5);

/** A ball whose mass is exactly c D d^p and whose circumference is k D. */
const ball = (c: number, p: number, k: number) => {
  return (set: Trial['set']): Trial => {
    const { outsideDiameterMm: D } = set.carrier;
    return { set, massG: c * D * set.layers[0].strutDiameterMm ** p, circumferenceMm: k * D };
  };
};
/** Coefficients that keep every diameter between 2.5 and 5 mm. */
const balls = fc.tuple(
  fc.double({ min: 0.1, max: 0.25, noNaN: true }),
  fc.double({ min: 1.6, max: 2, noNaN: true }),
  fc.double({ min: 3.1, max: 3.2, noNaN: true }),
);

describe('the next version by scaling', () => {
  test('hits the mass at the second step, whatever power of the strut diameter the mass goes with', () => {
    fc.assert(
      fc.property(balls, ([c, p, k]) => {
        const weigh = ball(c, p, k);
        const trials = [weigh(FIRST_GUESS)];
        for (let step = 0; step < 2; step++) trials.push(weigh(nextStep(trials, WANTED).set));
        expect(Math.abs(trials[2].massG / WANTED.massG - 1)).toBeLessThan(ROUNDING);
        expect(trials[2].circumferenceMm).toBeCloseTo(510, 1);
      }),
    );
  });

  test('finds the power from two results, and takes the square of slender struts before', () => {
    const weigh = ball(0.2, 1.8, Math.PI);
    const first = weigh(FIRST_GUESS);
    const step = nextStep([first], WANTED);
    expect(step).toMatchObject({ exponent: 2, exponentFrom: 'law' });
    expect(step.outsideFactor * step.strutFactor ** 2).toBeCloseTo(WANTED.massG / first.massG, 12);
    const next = nextStep([first, weigh(step.set)], WANTED);
    expect(next.exponentFrom).toBe('results');
    expect(next.exponent).toBeCloseTo(1.8, 10);
  });

  test('leaves the size alone within the band, and lets no rounding noise decide the power', () => {
    const weigh = ball(0.2, 1.8, 505 / 150);
    const near = { ...FIRST_GUESS, layers: [{ depthMm: 0, strutDiameterMm: 3.01 }, FIRST_GUESS.layers[1]] };
    const step = nextStep([weigh(FIRST_GUESS), weigh(near)], WANTED);
    expect(step).toMatchObject({ outsideFactor: 1, exponentFrom: 'law' });
    expect(step.set.carrier).toEqual(FIRST_GUESS.carrier);
  });

  test('keeps depths, tiling and the proportions of the struts', () => {
    const { set, strutFactor } = nextStep([ball(0.2, 2, Math.PI)(FIRST_GUESS)], WANTED);
    expect(set.tiling).toEqual(FIRST_GUESS.tiling);
    set.layers.forEach(({ depthMm, strutDiameterMm }, k) => {
      expect(depthMm).toBe(FIRST_GUESS.layers[k].depthMm);
      expect(Math.abs(strutDiameterMm - FIRST_GUESS.layers[k].strutDiameterMm * strutFactor)).toBeLessThan(0.00501);
    });
    expect(set.links.strutDiameterMm).toBe(set.layers[1].strutDiameterMm);
  });
});
