import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Arrangement, arrange, arrangements } from '../../../worker/engine/print/index.ts';
import { countSpheres, levelsOf, sphereCentres } from '../../../worker/engine/print/sphere-stack.ts';
import { MATERIAL, VOLUME } from './samples.ts';

/** Relative; pitches are quotients of lengths, and a filling pitch may be a few roundings off. */
const ROUNDING = 1e-8;

const inBox = (diameter: number, sizeMm: readonly [number, number, number], spacing = 0, margin = 0, cover = 0) =>
  arrange(diameter, MATERIAL, { ...VOLUME, sizeMm, partSpacingMm: spacing, wallMarginMm: margin, coverMm: cover });

/** Independent route: every pair, every wall. */
function expectApartAndInside(found: Arrangement, sizeMm: readonly number[], margins: readonly number[]): void {
  const { centresMm, partDiameterMm: d, spacingMm } = found;
  const slack = ROUNDING * (d + spacingMm);
  for (let i = 0; i < centresMm.length; i += 3) {
    for (let axis = 0; axis < 3; axis++) {
      expect(centresMm[i + axis]).toBeGreaterThanOrEqual(margins[axis] + d / 2 - slack);
      expect(centresMm[i + axis]).toBeLessThanOrEqual(sizeMm[axis] - margins[axis] - d / 2 + slack);
    }
    let nearest = Infinity;
    for (let j = 0; j < i; j += 3) {
      const distance = Math.hypot(centresMm[i] - centresMm[j], centresMm[i + 1] - centresMm[j + 1], centresMm[i + 2] - centresMm[j + 2]);
      nearest = Math.min(nearest, distance);
    }
    expect(nearest).toBeGreaterThanOrEqual(d + spacingMm - slack);
  }
}

const places = (side: number, step: number) => (side < 0 ? 0 : Math.floor(side / step + 1e-9) + 1);
const square = (box: readonly number[]) => box.reduce((count, side) => count * places(side, 1), 1);
/** Rows staggered by one axis: v rows at sqrt(3)/2, every other one shifted by half a sphere. */
const staggeredOnce = ([u, v, w]: readonly number[]) => {
  const rows = places(v, Math.sqrt(3) / 2);
  return (Math.ceil(rows / 2) * places(u, 1) + Math.floor(rows / 2) * places(u - 0.5, 1)) * places(w, 1);
};
/** Staggered by two axes: such layers sqrt(2/3) apart, every other one over the hollows (shifted by 1/2 and 1/sqrt(12)). */
const staggeredTwice = ([u, v, w]: readonly number[]) => {
  const layer = (du: number, dv: number) => {
    const rows = places(v - dv, Math.sqrt(3) / 2);
    const odd = places(u - ((du + 0.5) % 1), 1);
    return Math.ceil(rows / 2) * places(u - du, 1) + Math.floor(rows / 2) * odd;
  };
  const layers = places(w, Math.sqrt(2 / 3));
  return Math.ceil(layers / 2) * layer(0, 0) + Math.floor(layers / 2) * layer(0.5, 1 / Math.sqrt(12));
};
const orders = ([x, y, z]: readonly number[]) => [
  [x, y, z],
  [x, z, y],
  [y, x, z],
  [y, z, x],
  [z, x, y],
  [z, y, x],
];

describe('arrangement of equal spheres', () => {
  const side = fc.integer({ min: 1000, max: 6000 }).map((thousandths) => thousandths / 1000);

  it('keeps every pair apart and every part inside, and beats square and staggered stacks', () => {
    fc.assert(
      fc.property(fc.tuple(side, side, side), fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 4 }), (sides, spacing, margin) => {
        const size = sides.map((each) => 10 * each + 2 * margin) as [number, number, number];
        const found = inBox(10, size, spacing, margin, margin);
        expectApartAndInside(found, size, [margin, margin, margin]);
        expect(found.centresMm).toHaveLength(3 * found.count);
        const box = sides.map((each) => (10 * each - 10) / (10 + spacing));
        for (const order of orders(box)) {
          expect(found.count).toBeGreaterThanOrEqual(square(order));
          expect(found.count).toBeGreaterThanOrEqual(staggeredOnce(order));
          expect(found.count).toBeGreaterThanOrEqual(staggeredTwice(order));
        }
      }),
      { numRuns: 100, seed: 11 },
    );
  });

  it('gives the same answer twice, sorted from the bottom up', () => {
    const [one, two] = [0, 1].map(() => inBox(67, [300, 280, 400], 5, 10, 5));
    expect(one).toEqual(two);
    const heights = one.centresMm.filter((_, i) => i % 3 === 2);
    expect([...heights]).toEqual([...heights].sort((a, b) => a - b));
  });

  it('does not care how the chamber is turned', () => {
    const counts = orders([220, 300, 410]).map((size) => inBox(52, size as [number, number, number], 4, 0, 0).count);
    expect(new Set(counts).size).toBe(1);
  });

  it('places parts larger by the shrinkage, and none where one does not fit', () => {
    const shrinking = { ...MATERIAL, shrinkagePct: [2, 3, 1] as const };
    const volume = { ...VOLUME, sizeMm: [120, 120, 120] as const, wallMarginMm: 10, coverMm: 10 };
    expect(arrange(97, shrinking, volume)).toMatchObject({ count: 1, partDiameterMm: expect.closeTo(100, 9), name: 'one part' });
    expect(arrange(97.1, shrinking, volume)).toMatchObject({ count: 0 });
    expect(arrange(97, shrinking, { ...volume, coverMm: 10.01 }).count).toBe(0);
  });

  it('stands parts across the diagonal of a narrow chamber', () => {
    // Centres in 0.45 x 0.45 x 0.8: the diagonal is 1.022 spacings.
    expect(inBox(10, [14.5, 14.5, 18]).count).toBe(2);
    expect(inBox(10, [14.5, 14.5, 17.6]).count).toBe(1);
  });

  it('of equal counts is the lowest', () => {
    // Rows of two in a box of 1.6 by 1.05 spacings: aligned, four parts stand one spacing high; nested and pulled apart, sqrt(1 - (0.8 / 1.5)^2).
    const heights = inBox(10, [10 + 16, 10, 10 + 10.5]).centresMm.filter((_, i) => i % 3 === 2);
    expect(heights).toHaveLength(4);
    expect(heights[3] - heights[0]).toBeCloseTo(10 * Math.sqrt(1 - (0.8 / 1.5) ** 2), 9);
  });

  it('fills the lower part of a chamber that would hold tens of thousands, and says so', () => {
    const found = inBox(5, [1000, 1000, 1000]);
    expect(found.capped).toBe(true);
    expect(found.count).toBeGreaterThanOrEqual(10_000);
    expect(found.count).toBeLessThan(15_000);
    expect(inBox(50, [1000, 1000, 1000]).capped).toBe(false);
  });
});

describe('stack of spheres', () => {
  const length = fc.integer({ min: 1, max: 60 }).map((tenths) => tenths / 10);
  const stack = fc.record({
    pitch: length,
    rowStep: length,
    rowShift: length,
    layerStep: length,
    layerShift: fc.tuple(
      fc.integer({ min: -60, max: 60 }).map((tenths) => tenths / 10),
      length,
    ),
  });

  it('holds as many as it lists, at the levels it lists', () => {
    fc.assert(
      fc.property(stack, fc.tuple(length, length, length), (each, box) => {
        const centres = sphereCentres(each, box);
        expect(countSpheres(each, box)).toBe(centres.length / 3);
        for (const axis of [0, 1, 2]) {
          const listed = levelsOf(each, box, axis).flatMap(({ at, count }) => new Array<number>(count).fill(at));
          expect(listed).toEqual([...centres.filter((_, i) => i % 3 === axis)].sort((a, b) => a - b));
        }
        for (let i = 0; i < centres.length; i++) expect(centres[i]).toBeLessThanOrEqual(box[i % 3] * (1 + 1e-6) + 1e-6);
      }),
      { seed: 13, numRuns: 150 },
    );
  });
});

/**
 * Most unit spheres known in a cube of volume n = 1, 2, 3, ...: the On-Line Encyclopedia of Integer Sequences, A084824 (after Schaer 1966,
 * Goldberg 1971, Gensane 2004), read in a copy. Proven for few n; the rest is the best known.
 */
const CUBE_OF_VOLUME = [
  1, 1, 1, 2, 4, 4, 5, 8, 8, 8, 9, 9, 10, 11, 14, 14, 14, 15, 18, 18, 19, 19, 21, 21, 23, 24, 27, 27, 27, 27, 32, 32, 32, 33,
];

/** Most circles of unit area known in a square of area n = 2, 3, ...: A337020, read in a copy. The first that fits is at n = 2. */
const SQUARE_OF_AREA = [
  1, 1, 2, 3, 4, 4, 5, 5, 6, 8, 9, 9, 9, 10, 11, 12, 13, 13, 15, 16, 16, 16, 18, 18, 20, 20, 21, 22, 22, 24, 25, 25, 25, 27, 27, 28, 30, 30,
];

/**
 * Ten rooms in diameters of the ball, with what one gets by hand from the square grid, rows staggered by one axis, and layers staggered by
 * two (each the best of six turns of the room), and the most known. Known counts of cubes: A084824 as above; for other boxes none was found.
 */
const CUBE = (volume: number) => [Math.cbrt(volume), Math.cbrt(volume), Math.cbrt(volume)] as const;
const TEN_ROOMS = [
  { room: CUBE(8), square: 8, once: 6, twice: 4, found: 8, known: 8 },
  { room: CUBE(15), square: 8, once: 6, twice: 6, found: 14, known: 14 },
  { room: CUBE(20), square: 8, once: 8, twice: 12, found: 18, known: 18 },
  { room: CUBE(27), square: 27, once: 24, twice: 21, found: 27, known: 27 },
  { room: CUBE(31), square: 27, once: 24, twice: 23, found: 32, known: 32 },
  { room: CUBE(34), square: 27, once: 24, twice: 23, found: 32, known: 33 },
  { room: [3, 3.5, 4], square: 36, once: 36, twice: 40, found: 40, known: null },
  { room: [4, 4, 2.7], square: 32, once: 32, twice: 42, found: 42, known: null },
  { room: [2.5, 3.6, 4.5], square: 24, once: 32, twice: 36, found: 40, known: null },
  { room: [8, 8, 5], square: 320, once: 340, twice: 349, found: 365, known: null },
] as const;

describe('ten rooms', () => {
  it.each(TEN_ROOMS)(
    '$room: at least the best of $square, $once and $twice by hand',
    ({ room, square: grid, once, twice, found, known }) => {
      const box = room.map((side) => side - 1);
      const byHand = [square, staggeredOnce, staggeredTwice].map((count) => Math.max(...orders(box).map(count)));
      expect(byHand).toEqual([grid, once, twice]);
      const { count } = inBox(1, [...room]);
      expect(count).toBeGreaterThanOrEqual(Math.max(grid, once, twice));
      expect(count).toBe(found);
      expect(count).toBeLessThanOrEqual(known ?? Infinity);
    },
  );
});

describe('the lowest arrangement of each number', () => {
  const side = fc.integer({ min: 1000, max: 4000 }).map((thousandths) => thousandths / 1000);
  const all = (size: [number, number, number], spacing = 0, margin = 0) =>
    arrangements(10, MATERIAL, { ...VOLUME, sizeMm: size, partSpacingMm: spacing, wallMarginMm: margin, coverMm: margin });

  it('holds that many, apart and inside, and more parts never stand lower', () => {
    fc.assert(
      fc.property(fc.tuple(side, side, side), fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 4 }), (sides, spacing, margin) => {
        const size = sides.map((each) => 10 * each + 2 * margin) as [number, number, number];
        const { most, topOf, take } = all(size, spacing, margin);
        for (let parts = 1; parts <= most; parts++) {
          const found = take(parts);
          expect(found.count).toBe(parts);
          expectApartAndInside(found, size, [margin, margin, margin]);
          expect(found.centresMm[3 * parts - 1]).toBeCloseTo(topOf(parts), 9);
          if (parts > 1) expect(topOf(parts)).toBeGreaterThanOrEqual(topOf(parts - 1));
        }
        expect(take(most + 1)).toEqual(take(most));
      }),
      { numRuns: 40, seed: 17 },
    );
  });

  it('needs no more height than a square grid of as many', () => {
    const { topOf } = all([53, 41, 200]);
    for (let parts = 1; parts <= 100; parts++) expect(topOf(parts)).toBeLessThanOrEqual(5 + 10 * (Math.ceil(parts / 20) - 1) + 1e-9);
  });

  it('leans two parts against opposite corners of a narrow chamber', () => {
    // Centres 0.66 apart along x and y, so one rises sqrt(1 - 2 * 0.66^2) above the other.
    expect(all([16.6, 16.6, 100]).topOf(2)).toBeCloseTo(5 + 10 * Math.sqrt(1 - 2 * 0.66 ** 2), 9);
  });

  it('names the stack it takes the lowest places of', () => {
    const { take } = all([50, 50, 50]);
    expect(take(1).name).toBe('one part');
    expect(take(26).name).toMatch(/^the lowest 26 of \d+ places: /);
  });
});

describe('against the densest packings published', () => {
  const inCube = (volume: number) => inBox(1, [Math.cbrt(volume), Math.cbrt(volume), Math.cbrt(volume)]).count;
  const inSquare = (area: number) => {
    const size = Math.sqrt((area * Math.PI) / 4);
    return inBox(1, [size, size, 1]).count;
  };

  it('never claims more', () => {
    CUBE_OF_VOLUME.forEach((most, i) => expect(inCube(i + 1)).toBeLessThanOrEqual(most));
    SQUARE_OF_AREA.forEach((most, i) => expect(inSquare(i + 2)).toBeLessThanOrEqual(most));
  });

  it('reaches them where a regular stack is the densest, and misses few spheres elsewhere', () => {
    const short = CUBE_OF_VOLUME.flatMap((most, i) => (inCube(i + 1) < most ? [`${i + 1}: ${inCube(i + 1)} of ${most}`] : []));
    // Irregular packings that neither a stack of equal layers nor placing one by one finds.
    expect(short).toEqual([
      '7: 4 of 5',
      '13: 9 of 10',
      '14: 9 of 11',
      '18: 14 of 15',
      '21: 18 of 19',
      '22: 18 of 19',
      '23: 18 of 21',
      '24: 18 of 21',
      '25: 18 of 23',
      '26: 20 of 24',
      '34: 32 of 33',
    ]);
  });

  it('reaches them in a square too, where rows are the densest', () => {
    const short = SQUARE_OF_AREA.flatMap((most, i) => (inSquare(i + 2) < most ? [`${i + 2}: ${inSquare(i + 2)} of ${most}`] : []));
    expect(short).toEqual([
      '11: 6 of 8',
      '16: 10 of 11',
      '18: 12 of 13',
      '20: 14 of 15',
      '28: 20 of 21',
      '29: 20 of 22',
      '30: 21 of 22',
      '31: 23 of 24',
      '37: 27 of 28',
      '38: 27 of 30',
    ]);
  });
});
