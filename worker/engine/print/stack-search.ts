import type { Poll } from './lowest-first.ts';
import { type Box, countSpheres, levelsOf, type SphereStack, sphereCentres } from './sphere-stack.ts';
import { stackCandidates } from './stack-candidates.ts';

/** A stack turned into the chamber: its u, v, w run along these axes of the box, whose sides in that order are `box`. */
export interface TurnedStack {
  readonly stack: SphereStack;
  readonly axes: readonly [number, number, number];
  readonly box: Box;
}

const AXES: readonly TurnedStack['axes'][] = [
  [0, 1, 2],
  [1, 0, 2],
  [0, 2, 1],
  [2, 0, 1],
  [1, 2, 0],
  [2, 1, 0],
];

/** Every stack worth trying in a box of centres, turned all six ways; `poll` is called for each. At least the square grid is one: its first sphere fits any box. */
function* turnedStacks(box: Box, spacing: number, poll?: Poll): Generator<TurnedStack> {
  for (const axes of AXES) {
    const turned: Box = [box[axes[0]], box[axes[1]], box[axes[2]]];
    for (const stack of stackCandidates(turned, spacing)) {
      poll?.();
      yield { stack, axes, box: turned };
    }
  }
}

/** Number of spheres in the stack that holds most. */
export function mostStacked(box: Box, spacing: number, poll?: Poll): number {
  let most = 0;
  for (const { stack, box: turned } of turnedStacks(box, spacing, poll)) most = Math.max(most, countSpheres(stack, turned));
  return most;
}

/** A stack, and the height that its `count` lowest spheres reach. */
export interface StackHeight {
  readonly turned: TurnedStack;
  readonly top: number;
}

/**
 * For every number of spheres up to `most` the stack that holds that many below the least height; of equally low ones the first found. Only
 * whole levels are entered, so an entry may be missing where one for more spheres is not.
 */
export function lowestStacks(box: Box, spacing: number, most: number, poll?: Poll): StackHeight[] {
  const lowest: StackHeight[] = [];
  for (const turned of turnedStacks(box, spacing, poll)) {
    let below = 0;
    for (const { at, count } of levelsOf(turned.stack, turned.box, turned.axes.indexOf(2))) {
      below = Math.min(below + count, most);
      if (lowest[below] === undefined || at < lowest[below].top - 1e-9 * spacing) lowest[below] = { turned, top: at };
      if (below === most) break;
    }
  }
  return lowest;
}

/** Centres x, y, z in the box, from the bottom up, then by y, then by x. */
export function centresOf({ stack, axes, box }: TurnedStack): number[][] {
  const uvw = sphereCentres(stack, box);
  const centres: number[][] = [];
  for (let i = 0; i < uvw.length; i += 3) {
    const centre = [0, 0, 0];
    // Clamped, because a pitch that fills the box exactly may end a rounding error outside it.
    axes.forEach((axis, k) => (centre[axis] = Math.min(Math.max(0, uvw[i + k]), box[k])));
    centres.push(centre);
  }
  return centres.sort((a, b) => a[2] - b[2] || a[1] - b[1] || a[0] - b[0]);
}
