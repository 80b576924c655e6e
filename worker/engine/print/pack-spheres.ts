import { lowestEqualSpheres } from './equal-spheres.ts';
import { type Poll, placeLowestFirst, type Room, type RoomSphere } from './lowest-first.ts';

/** Spheres in a room: one place per radius, null where none was found. */
export interface SpherePacking {
  readonly places: readonly (RoomSphere | null)[];
  /** How they were placed, in words. */
  readonly words: string;
}

/** Spheres in one band differ by at most this factor: none, some, much, any. */
const BAND_FACTORS = [1, 1.1, 1.5, Infinity];
const ROUNDING = 1e-9;

/**
 * Packs spheres of different sizes: the most, then the lowest, of a few constructions. `Bands`: spheres of similar size stand as a stack of
 * equal ones (see lowestEqualSpheres), the largest at the bottom, each band let down onto those below. `One by one`: each at the lowest free
 * place, largest first (see placeLowestFirst), on the floor or on the first band. What a band leaves over is placed one by one. Equal
 * spheres are one band, so they stand no worse than a stack. Deterministic; not proven densest. radii: with half the spacing to the next.
 */
export function packSpheres(radii: readonly number[], room: Room, poll?: Poll): SpherePacking {
  const order = [...radii.keys()].sort((a, b) => radii[b] - radii[a] || a - b);
  const sorted = order.map((part) => radii[part]);
  const groupings = BAND_FACTORS.map((factor) => groupBySize(sorted, factor));
  // A larger factor that joins no more groups changes nothing.
  const distinct = groupings.filter((groups, i) => i === 0 || groups.length < groupings[i - 1].length);
  const tries: SpherePacking[] = distinct.flatMap((groups) => {
    const all = {
      places: inBands(groups, groups.length, room, poll),
      words: groups.length === 1 ? 'one stack' : `${groups.length} stacks by size, one on the other`,
    };
    return groups.length === 1
      ? [all]
      : [all, { places: inBands(groups, 1, room, poll), words: 'the largest stacked, the others one by one where they lie lowest' }];
  });
  for (const across of ['y', 'x'] as const)
    tries.push({ places: placeLowestFirst(sorted, room, { across, poll }), words: 'one by one where they lie lowest, the largest first' });
  const best = tries.reduce((found, each) => (isBetter(each, found) ? each : found));
  const places = new Array<RoomSphere | null>(radii.length).fill(null);
  order.forEach((part, k) => (places[part] = best.places[k]));
  return { places, words: best.words };
}

function isBetter(a: SpherePacking, b: SpherePacking): boolean {
  const count = ({ places }: SpherePacking) => places.filter((place) => place !== null).length;
  const top = ({ places }: SpherePacking) => Math.max(0, ...places.map((place) => (place ? place.z + place.radius : 0)));
  return count(a) > count(b) || (count(a) === count(b) && top(a) < top(b) * (1 - ROUNDING));
}

/** Cuts the falling radii where one is smaller than the first of its group by more than the factor. */
function groupBySize(falling: readonly number[], factor: number): number[][] {
  const groups: number[][] = [];
  for (const radius of falling) {
    const group = groups[groups.length - 1];
    if (group && group[0] <= radius * factor) group.push(radius);
    else groups.push([radius]);
  }
  return groups;
}

/** Stacks the first groups as bands, then places one by one what is left. */
function inBands(groups: readonly number[][], bands: number, room: Room, poll?: Poll): (RoomSphere | null)[] {
  const places: (RoomSphere | null)[] = [];
  const standing: RoomSphere[] = [];
  for (const group of groups.slice(0, bands)) {
    const band = nextBand(group, room, standing, poll);
    standing.push(...band.filter((sphere) => sphere !== null));
    group.forEach((_, k) => places.push(band[k] ?? null));
  }
  const radii = groups.flat();
  const left = radii.flatMap((radius, k) => (places[k] ? [] : [{ radius, k }]));
  const found = placeLowestFirst(
    left.map(({ radius }) => radius),
    room,
    { fixed: standing, poll },
  );
  left.forEach(({ k }, i) => (places[k] = found[i]));
  return places;
}

/** The group as a stack of its largest, mirrored as it rests lowest on the spheres that stand already; null for those that would pass the ceiling. */
function nextBand(group: readonly number[], room: Room, standing: readonly RoomSphere[], poll?: Poll): (RoomSphere | null)[] {
  const { spheres } = lowestEqualSpheres(group.length, group[0], room, poll).take(group.length);
  let best: RoomSphere[] = [];
  let least = Infinity;
  for (const [mirrorX, mirrorY] of [
    [0, 0],
    [1, 0],
    [0, 1],
    [1, 1],
  ]) {
    const band = spheres.map(({ x, y, z }, k) => ({ x: mirrorX ? room[0] - x : x, y: mirrorY ? room[1] - y : y, z, radius: group[k] }));
    const rise = riseOnto(band, standing);
    if (rise < least * (1 - ROUNDING)) [best, least] = [band.map((sphere) => ({ ...sphere, z: sphere.z + rise })), rise];
  }
  return best.map((sphere) => (sphere.z + sphere.radius <= room[2] * (1 + ROUNDING) ? sphere : null));
}

/** How far the band must rise from the floor to clear every standing sphere from above. */
function riseOnto(band: readonly RoomSphere[], standing: readonly RoomSphere[]): number {
  let rise = 0;
  for (const a of band) {
    for (const b of standing) {
      const reach = a.radius + b.radius;
      const aside = Math.hypot(a.x - b.x, a.y - b.y);
      if (aside < reach) rise = Math.max(rise, b.z + Math.sqrt(reach * reach - aside * aside) - a.z);
    }
  }
  return rise;
}
