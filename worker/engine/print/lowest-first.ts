import { type Touch, tangentCentres } from './tangent-centres.ts';

/** A sphere in a room; its radius includes half the spacing to the next. */
export interface RoomSphere {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly radius: number;
}

/** Called every few milliseconds by what takes longer; may throw. */
export type Poll = () => void;

/** Sides of the room along x, y, z, from the origin. */
export type Room = readonly [number, number, number];

/** Spheres that touch by construction may overlap by rounding; relative to the distance of their centres. */
const ROUNDING = 1e-9;

/**
 * Puts spheres into the room one by one, in the given order, each at the lowest free place where it touches three bodies (the floor, side walls,
 * spheres already there); of equally low places the first along `across`, then along the other axis. This is the bottom-left rule of
 * two-dimensional cutting, in space: the lowest free place always touches three bodies, so no lower one is missed. `fixed`: spheres
 * that stand already; `poll` is called for every sphere. Answers one place per radius, null where none was left. O(spheres * neighbours^3).
 */
export function placeLowestFirst(
  radii: readonly number[],
  room: Room,
  { fixed = [], across = 'y', poll }: { fixed?: readonly RoomSphere[]; across?: 'x' | 'y'; poll?: Poll } = {},
): (RoomSphere | null)[] {
  const standing = [...fixed];
  const found: (RoomSphere | null)[] = [];
  let free: FreePlaces | null = null;
  for (const radius of radii) {
    poll?.();
    if (free?.radius !== radius) free = freePlaces(radius, room, standing);
    const place = lowest(free.places, across, ROUNDING * radius);
    found.push(place);
    if (place === null) continue;
    standing.push(place);
    addSphere(free, room, standing);
  }
  return found;
}

/** Every free place of a sphere of one radius that touches three bodies. */
interface FreePlaces {
  readonly radius: number;
  places: RoomSphere[];
}

function freePlaces(radius: number, room: Room, standing: readonly RoomSphere[]): FreePlaces {
  const free: FreePlaces = { radius, places: [] };
  const walls = wallsOf(radius, room);
  if (walls === null) return free;
  addPlaces(free, room, walls.slice(0, 1), walls.slice(1), standing);
  for (let count = 1; count <= standing.length; count++)
    addTouching(free, room, standing[count - 1], standing.slice(0, count - 1), standing);
  return free;
}

/** The last of the standing spheres takes some places away and makes others. */
function addSphere(free: FreePlaces, room: Room, standing: readonly RoomSphere[]): void {
  const last = standing[standing.length - 1];
  free.places = free.places.filter((place) => apart(place, last));
  addTouching(free, room, last, standing.slice(0, -1), standing);
}

/** Adds the places that touch `sphere` and two of the walls and the `others`. */
function addTouching(
  free: FreePlaces,
  room: Room,
  sphere: RoomSphere,
  others: readonly RoomSphere[],
  standing: readonly RoomSphere[],
): void {
  const walls = wallsOf(free.radius, room);
  if (walls === null) return;
  // Whoever touches the new place lies within its diameter of the sphere, and only such a sphere can be in its way.
  const within = (other: RoomSphere) => distance(other, sphere) <= other.radius + sphere.radius + 2 * free.radius;
  const partners = [...walls, ...others.filter(within).map((other) => touchOf(other, free.radius))];
  addPlaces(free, room, [touchOf(sphere, free.radius)], partners, standing.filter(within));
}

function addPlaces(
  free: FreePlaces,
  room: Room,
  firsts: readonly Touch[],
  partners: readonly Touch[],
  inTheWay: readonly RoomSphere[],
): void {
  for (const first of firsts) {
    for (let i = 0; i < partners.length; i++) {
      for (let j = i + 1; j < partners.length; j++) {
        for (const [x, y, z] of tangentCentres([first, partners[i], partners[j]])) {
          const place = { x, y, z, radius: free.radius };
          if (inside(place, room) && inTheWay.every((sphere) => apart(place, sphere))) free.places.push(place);
        }
      }
    }
  }
}

/** Floor and side walls; the ceiling never holds the lowest place. null: the sphere is larger than the room. */
function wallsOf(radius: number, room: Room): Touch[] | null {
  if (Math.min(...room) < 2 * radius * (1 - ROUNDING)) return null;
  const opposite = [0, 1].map((axis) => ({ axis, at: Math.max(radius, room[axis] - radius) }));
  return [{ axis: 2, at: radius }, { axis: 0, at: radius }, { axis: 1, at: radius }, ...opposite];
}

const touchOf = ({ x, y, z, radius }: RoomSphere, mine: number): Touch => ({ x, y, z, distance: radius + mine });
const distance = (a: RoomSphere, b: RoomSphere) => Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
export const apart = (a: RoomSphere, b: RoomSphere): boolean => distance(a, b) >= (a.radius + b.radius) * (1 - ROUNDING);

function inside({ x, y, z, radius }: RoomSphere, [X, Y, Z]: Room): boolean {
  const least = radius * (1 - ROUNDING);
  return Math.min(x, y, z) >= least && X - x >= least && Y - y >= least && Z - z >= least;
}

function lowest(places: readonly RoomSphere[], across: 'x' | 'y', slack: number): RoomSphere | null {
  const then = across === 'x' ? 'y' : 'x';
  let best: RoomSphere | null = null;
  for (const place of places) {
    const rise = best === null ? -1 : place.z - best.z;
    const aside = best === null ? 0 : place[across] - best[across];
    const before = best === null ? 0 : place[then] - best[then];
    if (rise < -slack || (rise <= slack && (aside < -slack || (aside <= slack && before < -slack)))) best = place;
  }
  return best;
}
