import { type Poll, placeLowestFirst, type Room, type RoomSphere } from './lowest-first.ts';
import { packSpheres, type SpherePacking } from './pack-spheres.ts';

/**
 * Packs all spheres, or, where that fails, the longest run of the first ones that could be packed together (found by halving), and one by one
 * whatever of the rest still finds a place among them. radii: the most wanted first, with half the spacing to the next.
 */
export function packInOrder(radii: readonly number[], room: Room, poll?: Poll): SpherePacking {
  const whole = (packing: SpherePacking) => packing.places.every((place) => place !== null);
  const all = packSpheres(radii, room, poll);
  if (whole(all)) return all;
  let packed: SpherePacking = { places: [], words: all.words };
  let [fits, fails] = [0, radii.length];
  while (fails - fits > 1) {
    const count = Math.floor((fits + fails) / 2);
    const packing = packSpheres(radii.slice(0, count), room, poll);
    if (whole(packing)) [packed, fits] = [packing, count];
    else fails = count;
  }
  const fixed = packed.places.filter((place): place is RoomSphere => place !== null);
  return { places: [...packed.places, ...placeLowestFirst(radii.slice(fits), room, { fixed, poll })], words: packed.words };
}
