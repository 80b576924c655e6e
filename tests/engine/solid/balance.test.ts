import { describe, expect, it } from 'vitest';
import { balance, halfDifference, integrateUnion, massProperties, unionSurface } from '../../../worker/engine/solid/index.ts';
import { latticeOf } from '../lattice/samples.ts';
import type { Point } from '../print/samples.ts';
import { at } from '../tiling/samples.ts';
import { chordMoments } from './chords.ts';
import { anyDirection, random } from './samples.ts';

/** Thicker on one side than on the other, and no axis of symmetry left. */
const { graph, symmetry, nodesPerLayer } = latticeOf({
  m: 1,
  n: 1,
  outsideDiameterMm: 60,
  layers: [{ depthMm: 0, strutDiameterMm: 3, gradient: { axis: 'y', fromFactor: 0.6, toFactor: 1.4 } }],
  orientation: 'pentagon-up',
});
const surface = unionSurface(graph);
const union = integrateUnion(graph, surface, symmetry);
const properties = massProperties(union.moments, [0, 0, 0], 1);
const figures = balance(graph, surface, union, properties, nodesPerLayer);

describe('the balance of a lattice that is thicker on one side', () => {
  const chords = chordMoments(graph, { lines: 700 });

  it('has its centre of mass where chords through the solid have it', () => {
    const offset = Math.hypot(chords[1], chords[2], chords[3]) / chords[0];
    expect(offset).toBeGreaterThan(1);
    // the midpoint rule at this step, of an offset of some millimetres
    expect(Math.abs(figures.centreOfMassOffsetMm - offset)).toBeLessThan(2e-3);
  });

  it('has halves across z = 0 that differ by what chords above it lack or have too much', () => {
    const upper = chordMoments(graph, { lines: 700, keep: [0, 0, 1] })[0];
    expect(Math.abs(figures.halfMassDifferencePct - (100 * Math.abs(2 * upper - chords[0])) / chords[0])).toBeLessThan(0.02);
  });

  it('tells the spread of its principal inertias over their mean, in percent', () => {
    const [least, middle, most] = properties.principal;
    expect(figures.inertiaSpreadPct).toBeCloseTo((300 * (most - least)) / (least + middle + most), 10);
    expect(figures.inertiaSpreadPct).toBeGreaterThan(1);
  });

  it('tells the spread of the tops of its node spheres about the centre of mass', () => {
    const tops = Array.from({ length: nodesPerLayer }, (_, v) => {
      const p = at(graph.xyz, v).map((x, i) => x - properties.centre[i]);
      return Math.hypot(...p) + graph.nodeRadius[v];
    });
    expect(figures.radialRunoutMm).toBeCloseTo(Math.max(...tops) - Math.min(...tops), 10);
    expect(figures.radialRunoutMm).toBeGreaterThan(1);
  });

  it('tells the largest difference of halves over all planes: none of many exceeds it, and the one across the gradient comes near', () => {
    const next = random(21);
    const across = (normal: Point) => (100 * Math.abs(halfDifference(graph, surface, union, normal))) / properties.volume;
    // 2 000 normals stand 3 degrees apart, and the difference falls with the cosine of the angle: 1.4e-3 at most between two of them
    for (let trial = 0; trial < 300; trial++) expect(across(anyDirection(next))).toBeLessThan(figures.largestHalfMassDifferencePct * 1.02);
    expect(across([0, 1, 0])).toBeGreaterThan(0.95 * figures.largestHalfMassDifferencePct);
  });
});
