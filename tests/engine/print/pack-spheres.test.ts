import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lowestEqualSpheres } from '../../../worker/engine/print/equal-spheres.ts';
import { placeLowestFirst, type Room, type RoomSphere } from '../../../worker/engine/print/lowest-first.ts';
import { packInOrder } from '../../../worker/engine/print/pack-in-order.ts';
import { packSpheres } from '../../../worker/engine/print/pack-spheres.ts';
import { tangentCentres } from '../../../worker/engine/print/tangent-centres.ts';

/** Relative: places are intersections of spheres, a few roundings off. */
const ROUNDING = 1e-8;

const standing = (places: readonly (RoomSphere | null)[]): RoomSphere[] => places.filter((place): place is RoomSphere => place !== null);
const topOf = (places: readonly (RoomSphere | null)[]) => Math.max(0, ...standing(places).map(({ z, radius }) => z + radius));

/** Independent route: every pair, every wall. */
function expectApartAndInside(spheres: readonly RoomSphere[], room: Room): void {
  spheres.forEach(({ x, y, z, radius }, i) => {
    const slack = ROUNDING * radius;
    [x, y, z].forEach((at, axis) => {
      expect(at).toBeGreaterThanOrEqual(radius - slack);
      expect(at).toBeLessThanOrEqual(room[axis] - radius + slack);
    });
    for (const other of spheres.slice(0, i))
      expect(Math.hypot(other.x - x, other.y - y, other.z - z)).toBeGreaterThanOrEqual(
        radius + other.radius - slack - ROUNDING * other.radius,
      );
  });
}

const length = (from: number, to: number) => fc.integer({ min: 1000 * from, max: 1000 * to }).map((thousandths) => thousandths / 1000);

describe('centres that touch three bodies', () => {
  it('is the corner of three walls, and none for parallel walls', () => {
    const wall = (axis: number, at: number) => ({ axis, at });
    expect(tangentCentres([wall(1, 2), wall(2, 3), wall(0, 1)])).toEqual([[1, 2, 3]]);
    expect(tangentCentres([wall(1, 2), wall(1, 3), wall(0, 1)])).toEqual([]);
  });

  it('stands on three touching spheres as the top of a regular tetrahedron', () => {
    const at = (x: number, y: number) => ({ x, y, z: 0, distance: 1 });
    const [low, high] = tangentCentres([at(0, 0), at(1, 0), at(0.5, Math.sqrt(3) / 2)]).sort((a, b) => a[2] - b[2]);
    expect(high[2]).toBeCloseTo(Math.sqrt(2 / 3), 12);
    expect(low[2]).toBeCloseTo(-Math.sqrt(2 / 3), 12);
    expect(high.slice(0, 2)).toEqual([expect.closeTo(0.5, 12), expect.closeTo(Math.sqrt(3) / 6, 12)]);
  });

  it('keeps to all three, and is found wherever there is one', () => {
    const point = fc.tuple(length(-5, 5), length(-5, 5), length(-5, 5));
    const kinds = fc.uniqueArray(fc.constantFrom(0, 1, 2, 3, 4, 5), { minLength: 3, maxLength: 3 });
    fc.assert(
      fc.property(point, fc.tuple(point, point, point), kinds, ([x, y, z], centres, chosen) => {
        // Bodies through a known solution: kinds 0 to 2 are walls, the others spheres.
        const touches = chosen.map((kind, i) => {
          const [a, b, c] = centres[i];
          return kind < 3 ? { axis: kind, at: [x, y, z][kind] } : { x: a, y: b, z: c, distance: Math.hypot(a - x, b - y, c - z) };
        });
        const found = tangentCentres(touches as unknown as Parameters<typeof tangentCentres>[0]);
        for (const centre of found) {
          for (const touch of touches) {
            if ('axis' in touch) expect(centre[touch.axis as number]).toBeCloseTo(touch.at as number, 6);
            else expect(Math.hypot(centre[0] - touch.x!, centre[1] - touch.y!, centre[2] - touch.z!)).toBeCloseTo(touch.distance!, 6);
          }
        }
        // Missed only where three centres lie nearly on one line, or the two solutions nearly meet.
        const near = found.some((centre) => Math.hypot(centre[0] - x, centre[1] - y, centre[2] - z) < 1e-4);
        const spread = found.length === 2 ? Math.hypot(...found[0].map((at, k) => at - found[1][k])) : 0;
        expect(near || spread < 1e-3).toBe(true);
      }),
      { seed: 31, numRuns: 500 },
    );
  });
});

describe('spheres placed one by one', () => {
  it('takes a place below which no other is free (random places as the second route)', () => {
    let seed = 7;
    const random = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
    const room: Room = [6, 5, 9];
    const radii = Array.from({ length: 14 }, () => 0.6 + 0.6 * random()).sort((a, b) => b - a);
    const places = placeLowestFirst(radii, room);
    expectApartAndInside(standing(places), room);
    for (let k = 1; k < radii.length; k++) {
      const before = standing(places.slice(0, k));
      for (let trial = 0; trial < 2000; trial++) {
        const [x, y, z] = room.map((side) => radii[k] + random() * (side - 2 * radii[k]));
        const free = before.every((other) => Math.hypot(other.x - x, other.y - y, other.z - z) >= other.radius + radii[k]);
        if (free) expect(z).toBeGreaterThanOrEqual(places[k]!.z - ROUNDING);
      }
    }
  });

  it('stands around what is there already, and is null where nothing is left', () => {
    const fixed = [{ x: 1, y: 1, z: 1, radius: 1 }];
    const [above, none] = placeLowestFirst([1, 1], [2, 2, 4], { fixed });
    expect(above).toMatchObject({ x: 1, y: 1, z: 3 });
    expect(none).toBeNull();
    expect(placeLowestFirst([1.01], [2, 2, 4])).toEqual([null]);
  });

  it('fills the floor along the side asked for', () => {
    const room: Room = [6, 6, 2];
    expect(placeLowestFirst([1, 1], room, { across: 'y' })[1]).toMatchObject({ x: 3, y: 1 });
    expect(placeLowestFirst([1, 1], room, { across: 'x' })[1]).toMatchObject({ x: 1, y: 3 });
  });
});

describe('packing of spheres of different sizes', () => {
  const radii = fc.array(length(0.5, 1.6), { minLength: 1, maxLength: 14 });
  const room = fc.tuple(length(3, 8), length(3, 8), length(3, 14));

  it('keeps every pair apart and every sphere inside, and answers the same twice', () => {
    fc.assert(
      fc.property(radii, room, (sizes, sides) => {
        const { places } = packSpheres(sizes, sides);
        places.forEach((place, k) => expect(place === null || place.radius === sizes[k]).toBe(true));
        expectApartAndInside(standing(places), sides);
        expect(packSpheres(sizes, sides).places).toEqual(places);
      }),
      { seed: 33, numRuns: 40 },
    );
  });

  it('of equal spheres is no worse than their lowest arrangement', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), room, (count, sides) => {
        const stack = lowestEqualSpheres(count, 1, sides);
        const { places } = packSpheres(new Array(count).fill(1), sides);
        const placed = standing(places).length;
        expect(placed).toBeGreaterThanOrEqual(Math.min(count, stack.most));
        if (placed === count) expect(topOf(places)).toBeLessThanOrEqual(stack.topOf(count) + 1 + ROUNDING);
      }),
      { seed: 35, numRuns: 40 },
    );
  });

  it('is no worse than treating all as the largest, and than placing them one by one', () => {
    fc.assert(
      fc.property(radii, (sizes) => {
        const sides: Room = [6, 7, 40];
        const found = topOf(packSpheres(sizes, sides).places);
        const largest = Math.max(...sizes);
        expect(found).toBeLessThanOrEqual(lowestEqualSpheres(sizes.length, largest, sides).topOf(sizes.length) + largest + ROUNDING);
        const falling = [...sizes].sort((a, b) => b - a);
        expect(found).toBeLessThanOrEqual(topOf(placeLowestFirst(falling, sides)) + ROUNDING);
      }),
      { seed: 37, numRuns: 40 },
    );
  });

  it('lets a band of small spheres down into the hollows of the large ones', () => {
    // Four spheres of radius 2 in a square; one of radius 1.2 rests on them in the middle, sqrt(3.2^2 - 8) above the plane of their centres.
    const { places } = packSpheres([2, 2, 2, 2, 1.2], [8, 8, 5.2]);
    expect(standing(places)).toHaveLength(5);
    expect(topOf(places)).toBeCloseTo(2 + Math.sqrt(3.2 ** 2 - 8) + 1.2, 9);
  });

  it('where not all fit, keeps the most wanted together and adds what still finds a place', () => {
    // The room holds two of radius 1 one above the other, or one and a few small ones.
    const { places } = packInOrder([1, 0.3, 1, 1, 0.2], [2, 2, 4.2]);
    expectApartAndInside(standing(places), [2, 2, 4.2]);
    expect(places.map((place) => place !== null)).toEqual([true, true, true, false, true]);
  });
});
