import { type Box, leastLayerStep, type SphereStack } from './sphere-stack.ts';

/** Pitches and steps wider than this many spacings only thin the stack out, where another sphere would have fitted. */
const WIDEST = 2;

/**
 * Stacks worth counting for a box of centres with sides `box` and centres at least `spacing` apart: square and staggered rows, layers aligned
 * or nested, each as tight as it goes and pulled apart until it just fills the box (so that the next row or layer nests deeper).
 */
export function* stackCandidates(box: Box, spacing: number): Generator<SphereStack> {
  for (const pitch of fillingSteps(box[0], spacing)) {
    for (const rowStep of fillingSteps(box[1], spacing)) yield* layerings({ pitch, rowStep, rowShift: 0 }, spacing);
    for (const rowStep of staggeredSteps(box[1], spacing, pitch)) yield* layerings({ pitch, rowStep, rowShift: pitch / 2 }, spacing);
  }
}

/**
 * The spacing itself and every wider step with which some number of places just fills the side: n places that start at one wall, or that
 * leave room for a row shifted by half a step.
 */
function fillingSteps(side: number, spacing: number): number[] {
  const steps = [spacing];
  for (let n = 2; side / (n - 1) >= spacing; n++) steps.push(side / (n - 1));
  for (let n = 1; side / (n - 0.5) >= spacing; n++) steps.push(side / (n - 0.5));
  // A side too short for two places still lets neighbouring rows stand at its two walls.
  if (side < spacing && side > 0) steps.push(2 * side);
  return steps.filter((step) => step <= WIDEST * spacing);
}

/** Row steps of staggered rows: the least one, and those that fill the side with rows of layer 0 or of a layer nested in its hollows. */
function staggeredSteps(side: number, spacing: number, pitch: number): number[] {
  const least = Math.max(spacing / 2, Math.sqrt(Math.max(0, spacing * spacing - (pitch * pitch) / 4)));
  const steps = [least];
  const rows = Math.floor(side / least) + 1;
  const fewest = Math.floor(side / (WIDEST * spacing)) + 1;
  for (let m = fewest; m <= rows + 1; m++) {
    const half = 2 * m - 1;
    steps.push(side / (m - 1), side / (m - 0.5), (side + Math.sqrt(side * side + (half * pitch * pitch) / 4)) / half);
    steps.push((side + Math.sqrt(Math.max(0, side * side - (half * pitch * pitch) / 4))) / half);
  }
  return steps.filter((step) => step >= least && step <= WIDEST * spacing);
}

/** All ways of laying the next layer on this one: straight above, over the middle of a row, between rows, over the hollows. */
function* layerings(layer: Pick<SphereStack, 'pitch' | 'rowStep' | 'rowShift'>, spacing: number): Generator<SphereStack> {
  const { pitch, rowStep, rowShift } = layer;
  if (rowShift === 0) {
    yield laid(layer, [0, 0], true, spacing);
    yield laid(layer, [pitch / 2, 0], true, spacing);
    yield laid(layer, [0, rowStep / 2], true, spacing);
    yield laid(layer, [pitch / 2, rowStep / 2], true, spacing);
    return;
  }
  yield laid(layer, [0, 0], true, spacing);
  yield laid(layer, [pitch / 2, 0], true, spacing);
  // The hollow of three neighbours lies under their circumcentre, this far from the row; there are two kinds of it.
  const aside = (rowStep * rowStep - (pitch * pitch) / 4) / (2 * rowStep);
  for (const alternate of [true, false]) {
    yield laid(layer, [pitch / 2, aside], alternate, spacing);
    yield laid(layer, [0, rowStep - aside], alternate, spacing);
  }
}

function laid(
  { pitch, rowStep, rowShift }: Pick<SphereStack, 'pitch' | 'rowStep' | 'rowShift'>,
  layerShift: readonly [number, number],
  alternate: boolean,
  spacing: number,
): SphereStack {
  const stack = { pitch, rowStep, rowShift, layerShift, alternate };
  return { pitch, rowStep, rowShift, layerShift, alternate, layerStep: leastLayerStep(stack, spacing) };
}
