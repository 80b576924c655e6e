import { type Box, leastLayerStep, type SphereStack } from './sphere-stack.ts';

/** Pitches and steps wider than this many spacings only thin the stack out, where another sphere would have fitted. */
const WIDEST = 2;

/**
 * Stacks worth counting for a box of centres with sides `box` and centres at least `spacing` apart: square and staggered rows, layers aligned
 * or nested, each as tight as it goes and pulled apart until it just fills the box (so that the next row or layer nests deeper). Meant
 * for all six ways of turning the box: what one turn leaves out is another's rows or layers.
 */
export function* stackCandidates(box: Box, spacing: number): Generator<SphereStack> {
  for (const pitch of fillingSteps(box[0], spacing)) {
    for (const rowStep of fillingSteps(box[1], spacing)) {
      yield laid(pitch, rowStep, 0, [0, 0], spacing);
      yield laid(pitch, rowStep, 0, [pitch / 2, rowStep / 2], spacing);
    }
    for (const rowStep of staggeredSteps(box[1], spacing, pitch)) {
      // The hollow of three neighbours lies under their circumcentre, this far from the row; there are two kinds of it.
      const aside = (rowStep * rowStep - (pitch * pitch) / 4) / (2 * rowStep);
      yield laid(pitch, rowStep, pitch / 2, [0, 0], spacing);
      yield laid(pitch, rowStep, pitch / 2, [pitch / 2, 0], spacing);
      yield laid(pitch, rowStep, pitch / 2, [pitch / 2, aside], spacing);
      yield laid(pitch, rowStep, pitch / 2, [0, rowStep - aside], spacing);
    }
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
  if (side < spacing / 2 && side > 0) steps.push(2 * side);
  return steps.filter((step) => step <= WIDEST * spacing);
}

/**
 * Row steps of staggered rows: the least one, and those with which m rows just fill the side, be it rows of layer 0, or of a layer in either
 * kind of hollow: (m - 1) s + aside = side and m s - aside = side with aside = (s^2 - pitch^2 / 4) / (2 s).
 */
function staggeredSteps(side: number, spacing: number, pitch: number): number[] {
  const least = Math.max(spacing / 2, Math.sqrt(Math.max(0, spacing * spacing - (pitch * pitch) / 4)));
  const steps = [least];
  const fewest = Math.floor(side / (WIDEST * spacing)) + 1;
  for (let m = fewest; m <= side / least + 2; m++) {
    const half = 2 * m - 1;
    const root = (sign: number) => Math.sqrt(Math.max(0, side * side + (sign * half * pitch * pitch) / 4));
    steps.push(side / (m - 1), (side + root(1)) / half, (side + root(-1)) / half);
  }
  return steps.filter((step) => step >= least && step <= WIDEST * spacing);
}

function laid(pitch: number, rowStep: number, rowShift: number, layerShift: readonly [number, number], spacing: number): SphereStack {
  const layerStep = leastLayerStep({ pitch, rowStep, rowShift, layerShift }, spacing);
  return { pitch, rowStep, rowShift, layerShift, layerStep };
}
