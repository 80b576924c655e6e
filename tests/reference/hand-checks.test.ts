import { describe, expect, it } from 'vitest';
import { sumOfStruts } from '../../worker/engine/geometry.ts';
import { massOfGraph } from '../../worker/engine/index.ts';
import { graphOf } from '../engine/print/samples.ts';
import { bar } from '../engine/solid/samples.ts';

const volumeOf = (graph: Parameters<typeof massOfGraph>[0]) => massOfGraph(graph, 1).volumeMm3;

describe('struts by hand [closed forms of solids; status: computed]', () => {
  it('a frustum of radii 1.5 and 1.6 mm, 10 mm long: 75.5029 mm3', () => {
    expect(sumOfStruts(bar([0, 0, 0], [0, 0, 10], 3, 3.2)).toFixed(4)).toBe('75.5029');
  });

  it('a cylinder of radius 1.5 mm, 10 mm long, with spherical ends: 84.8230 mm3', () => {
    expect(volumeOf(bar([1, 1, 1], [7, 9, 1], 3)).toFixed(4)).toBe('84.8230');
  });

  it('two cylinders of radius 1.5 mm that cross at right angles share 16/3 r^3 = 18.000 mm3', () => {
    const points = [
      [-10, 0, 0],
      [10, 0, 0],
      [0, -10, 0],
      [0, 10, 0],
    ] as const;
    const cross = graphOf(points, [
      [0, 1, 3],
      [2, 3, 3],
    ]);
    expect((2 * volumeOf(bar([-10, 0, 0], [10, 0, 0], 3)) - volumeOf(cross)).toFixed(3)).toBe('18.000');
  });
});
