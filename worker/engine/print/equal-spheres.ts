import { type Poll, placeLowestFirst, type Room, type RoomSphere } from './lowest-first.ts';
import type { Box } from './sphere-stack.ts';
import { centresOf, lowestStacks, type TurnedStack } from './stack-search.ts';

/** Arrangements of 1, 2, ... equal spheres in a room, each the lowest found. */
export interface LowestSpheres {
  /** Most spheres for which one was found. */
  readonly most: number;
  /** Height of the highest centre of n spheres, 1 <= n <= most; it never falls with n. */
  topOf(n: number): number;
  /** The n spheres, from the bottom up; as many as there are when n is more than the most. `stack` null: they were placed one by one. */
  take(n: number): { spheres: RoomSphere[]; stack: TurnedStack | null };
}

/** Up to so many spheres are also placed one by one: a few may stand lower that way in a narrow room, many never do. */
export const MOST_ONE_BY_ONE = 60;
/** Above this, stacks are not searched for lower boxes than the whole room: they gain little there and take long. */
const MANY = 1000;
const ROUNDING = 1e-9;

/**
 * For every number up to `most` the lowest of: the lower part of a stack (see stackCandidates) that fills the room, or the room cut to the
 * height of a square grid of so many; or spheres placed one by one (see placeLowestFirst). Never fewer spheres than the densest stack.
 */
export function lowestEqualSpheres(most: number, radius: number, room: Room, poll?: Poll): LowestSpheres {
  const spacing = 2 * radius;
  if (Math.min(...room) < spacing * (1 - ROUNDING)) return { most: 0, topOf: () => 0, take: () => ({ spheres: [], stack: null }) };
  const box: Box = [Math.max(0, room[0] - spacing), Math.max(0, room[1] - spacing), Math.max(0, room[2] - spacing)];
  const few = new Array<number>(Math.min(most, MOST_ONE_BY_ONE)).fill(radius);
  const oneByOne = placeLowestFirst(few, room, { poll }).filter((place) => place !== null);
  const table: { top: number; stack: TurnedStack | null }[] = [];
  const enter = (n: number, top: number, stack: TurnedStack | null, slack = ROUNDING * radius) => {
    if (table[n] === undefined || top < table[n].top - slack) table[n] = { top, stack };
  };
  for (const lower of lowerBoxes(box, spacing, most))
    lowestStacks(lower, spacing, most, poll).forEach(({ top, turned }, n) => enter(n, top, turned));
  oneByOne.forEach(({ z }, i) => enter(i + 1, z - radius, null));
  for (let n = table.length - 1; n > 1; n--) enter(n - 1, table[n].top, table[n].stack, 0);
  const found = table.length - 1;
  return {
    most: found,
    topOf: (n) => radius + table[n].top,
    take: (n) => {
      const { stack } = table[Math.min(n, found)];
      return { spheres: (stack ? spheresOf(stack, radius) : oneByOne).slice(0, n), stack };
    },
  };
}

/** The box cut to the heights of a square grid of one layer, two, ... until it holds `most`; a better stack of as many is no higher. */
function lowerBoxes(box: Box, spacing: number, most: number): Box[] {
  const [along, across] = [0, 1].map((axis) => Math.floor(box[axis] / spacing + ROUNDING) + 1);
  const boxes: Box[] = [];
  for (let layers = 1; most <= MANY; layers++) {
    const height = (layers - 1) * spacing;
    if (height >= box[2]) break;
    boxes.push([box[0], box[1], height]);
    if (layers * along * across >= most) return boxes;
  }
  return [...boxes, box];
}

const spheresOf = (stack: TurnedStack, radius: number): RoomSphere[] =>
  centresOf(stack).map(([x, y, z]) => ({ x: x + radius, y: y + radius, z: z + radius, radius }));
