import { describe, expect, it } from 'vitest';
import { massProperties } from '../../../worker/engine/solid/index.ts';
import { doubleShell } from '../lattice/samples.ts';
import { randomGraph } from './random-graphs.ts';
import { anyDirection, type Motion, momentsOf, moved, random, rotation, STILL } from './samples.ts';

/** The quadrature converges to about 1e-11 wherever its nodes fall. */
const SAME = 1e-10;
const graphs = [1, 2, 3, 4, 5].map(randomGraph).concat(doubleShell(1, 1, [20, 15], [2, 1.5, 1]).graph);
const propertiesOf = (graph: (typeof graphs)[number]) => massProperties(momentsOf(graph), [0, 0, 0], 1);

function check(motion: Motion, tolerance = SAME) {
  const { turn, shift, scale } = motion;
  for (const [k, graph] of graphs.entries()) {
    const [before, after] = [propertiesOf(graph), propertiesOf(moved(graph, motion))];
    expect(Math.abs(after.volume / (scale ** 3 * before.volume) - 1), `graph ${k}`).toBeLessThan(tolerance);
    for (let i = 0; i < 3; i++) {
      const centre = scale * [0, 1, 2].reduce((sum, j) => sum + turn[3 * i + j] * before.centre[j], 0) + shift[i];
      expect(Math.abs(after.centre[i] - centre), `graph ${k}`).toBeLessThan(tolerance * scale * 20);
      expect(Math.abs(after.principal[i] / (scale ** 5 * before.principal[i]) - 1), `graph ${k}`).toBeLessThan(10 * tolerance);
    }
  }
}

describe('mass properties', () => {
  const next = random(7);

  it('turn with the object', () => {
    for (let trial = 0; trial < 10; trial++) check({ ...STILL, turn: rotation(anyDirection(next), 6 * next()) });
  });

  it('move with the object: a shift changes neither volume nor inertia about the centre', () => {
    // the flux of x about an origin a few sizes away is larger than the volume, and so is its error
    for (let trial = 0; trial < 10; trial++) check({ ...STILL, shift: [20 * next() - 10, 20 * next() - 10, 20 * next() - 10] }, 10 * SAME);
  });

  it('grow as the third and fifth power of its size', () => {
    for (const scale of [0.01, 0.5, 3, 1000]) check({ ...STILL, scale });
  });

  it('are those of the mirror image', () => {
    check({ ...STILL, turn: [1, 0, 0, 0, 1, 0, 0, 0, -1] });
  });

  it('do not depend on which end of a strut is named first', () => {
    for (const graph of graphs) {
      const ends = graph.ends.map((_, k) => graph.ends[k ^ 1]);
      const diameters = graph.diameters.map((_, k) => graph.diameters[k ^ 1]);
      expect(Math.abs(momentsOf({ ...graph, ends, diameters })[0] / momentsOf(graph)[0] - 1)).toBeLessThan(SAME);
    }
  });
});
