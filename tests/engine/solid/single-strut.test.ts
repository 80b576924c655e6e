import { describe, expect, it } from 'vitest';
import { massProperties } from '../../../worker/engine/solid/index.ts';
import type { Point } from '../print/samples.ts';
import { anyDirection, bar, momentsOf, random, volumeOf } from './samples.ts';

/** Closed forms against a rule that converges to rounding: 1e-12 leaves room for the sums. */
const ROUNDING = 1e-12;
const along = (from: Point, direction: Point, length: number) => direction.map((x, i) => from[i] + length * x) as unknown as Point;

describe('a strut with its spherical ends', () => {
  it('weighs and turns as the capsule of the textbook, wherever it lies', () => {
    const next = random(1);
    for (let trial = 0; trial < 40; trial++) {
      const [r, length] = [0.2 + 3 * next(), 0.1 + 20 * next()];
      const from: Point = [40 * next() - 20, 40 * next() - 20, 40 * next() - 20];
      const direction = anyDirection(next);
      const { volume, centre, principal } = massProperties(momentsOf(bar(from, along(from, direction, length), 2 * r)), [0, 0, 0], 1);
      const [cylinder, ball] = [Math.PI * r * r * length, (4 / 3) * Math.PI * r ** 3];
      expect(Math.abs(volume / (cylinder + ball) - 1)).toBeLessThan(ROUNDING);
      // first moments are differences of fluxes about an origin up to 35 mm away
      along(from, direction, length / 2).forEach((x, i) => expect(Math.abs(centre[i] - x)).toBeLessThan(1e-10));
      // two half balls, their centres of mass 3r/8 from the flat sides
      const axial = (cylinder * r * r) / 2 + (ball * 2 * r * r) / 5;
      const across = cylinder * (length ** 2 / 12 + (r * r) / 4) + ball * ((2 * r * r) / 5 + length ** 2 / 4 + (3 * length * r) / 8);
      // second moments are differences about a centre up to 35 mm away
      const sizes = [axial, across, across].sort((a, b) => a - b);
      principal.forEach((value, i) => expect(Math.abs(value - sizes[i])).toBeLessThan(1e-10 * across + 1e-12 * volume * 35 ** 2));
    }
  });

  it('of two diameters is a frustum, with the bulge of its larger sphere and the half ball at the smaller end', () => {
    const next = random(2);
    for (let trial = 0; trial < 40; trial++) {
      const [wide, narrow, length] = [1 + next(), 0.3 + 0.7 * next(), 3 + 5 * next()];
      const k = (wide - narrow) / length;
      // the sphere leaves the cone where wide^2 - t^2 = (wide - k t)^2
      const t = (2 * k * wide) / (1 + k * k);
      const sphere = (wide * wide * (t + wide) - (t ** 3 + wide ** 3) / 3) * Math.PI;
      const cone = (Math.PI * ((wide - k * t) ** 3 - narrow ** 3)) / (3 * k);
      const expected = sphere + cone + (2 / 3) * Math.PI * narrow ** 3;
      const from: Point = [next(), next(), next()];
      const to = along(from, anyDirection(next), length);
      expect(Math.abs(volumeOf(bar(from, to, 2 * wide, 2 * narrow)) / expected - 1)).toBeLessThan(ROUNDING);
      expect(Math.abs(volumeOf(bar(to, from, 2 * narrow, 2 * wide)) / expected - 1)).toBeLessThan(ROUNDING);
    }
  });
});
