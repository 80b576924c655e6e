import { describe, expect, it } from 'vitest';
import { chordMoments } from './chords.ts';
import { randomGraph } from './random-graphs.ts';
import { momentsApart, momentsOf } from './samples.ts';

describe('random graphs of round cones', () => {
  it('have the moments that chords through the solid add up to', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const graph = randomGraph(seed);
      const [coarse, fine] = [300, 600].map((lines) => chordMoments(graph, { lines }));
      const expected = momentsOf(graph);
      // what the midpoint rule leaves at this step, seen from its halving: it falls with the step to the power 1.5 at least
      expect(momentsApart(expected, fine), `seed ${seed}`).toBeLessThan(1.2e-4);
      expect(momentsApart(expected, coarse), `seed ${seed}`).toBeLessThan(5e-4);
    }
  });
});
