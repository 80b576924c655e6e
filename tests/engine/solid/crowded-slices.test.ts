import { describe, expect, it } from 'vitest';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { findTouching, integrateUnion, slice, unionSurface } from '../../../worker/engine/solid/index.ts';
import { graphOf, type Point, type Strut } from '../print/samples.ts';
import { random } from './samples.ts';

/** Volume by the layers against the union's, of struts that may overlap anywhere. */
function miss(graph: StrutGraph, layerMm: number): number {
  const surface = unionSurface(graph, [0, 0, 0], findTouching(graph));
  const volume = integrateUnion(graph, surface, null).moments[0];
  return (layerMm * slice(graph, surface, null, layerMm).areaMm2.reduce((sum, area) => sum + area, 0)) / volume - 1;
}

const level: readonly Point[] = [
  [-10, 0, 0.1],
  [10, 0, 0],
];
const PAIRS: readonly [name: string, graph: StrutGraph][] = [
  [
    'crosses it',
    graphOf(
      [...level, [0, -10, 0.5], [0, 10, 0.7]],
      [
        [0, 1, 3],
        [2, 3, 2],
      ],
    ),
  ],
  [
    'ends in its side',
    graphOf(
      [...level, [0, 1.2, 0.2], [0.3, 10, 0.7]],
      [
        [0, 1, 3],
        [2, 3, 2],
      ],
    ),
  ],
  [
    'stands on it',
    graphOf(
      [...level, [0.2, 0.1, 1.4], [0.3, 0.4, 9]],
      [
        [0, 1, 3],
        [2, 3, 2],
      ],
    ),
  ],
  [
    'runs through the sphere at its end',
    graphOf(
      [...level, [10, 0.2, -8], [10.3, 0.4, 9]],
      [
        [0, 1, 6],
        [2, 3, 2],
      ],
    ),
  ],
];

describe('the layers of struts that overlap without meeting', () => {
  it.each(PAIRS)('add up to the union where one %s', (_, graph) => {
    // the midpoint rule on areas with square-root ends: power 1.5 of the layer at least; a sphere's part counted twice would be 1e-3 to 1e-2
    expect(Math.abs(miss(graph, 0.02))).toBeLessThan(2e-4);
  });

  it('add up to the union in heaps of cones', () => {
    for (const seed of [1, 2, 4, 6, 7, 8]) {
      const next = random(seed);
      const points = Array.from({ length: 7 }, (): Point => [8 * next(), 8 * next(), 8 * next()]);
      const diameter = () => 0.6 + 2 * next();
      const struts = points.slice(1).map((_, k): Strut => [Math.floor(next() * (k + 1)), k + 1, diameter(), diameter()]);
      expect(Math.abs(miss(graphOf(points, struts), 0.02)), `seed ${seed}`).toBeLessThan(1e-4);
    }
  });
});

describe('the layers of a strut that lies in the sphere at its end', () => {
  it('are those of the sphere', () => {
    const graph = graphOf(
      [
        [0, 0, 0],
        [0, 0.5, 1],
      ],
      [[0, 1, 10, 2]],
    );
    const surface = unionSurface(graph);
    const { areaMm2, zMm } = slice(graph, surface, null, 0.5);
    areaMm2.forEach((area, k) => {
      expect(area).toBeCloseTo(Math.PI * (25 - zMm[k] ** 2), 9);
    });
  });
});
