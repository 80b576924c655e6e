import { describe, expect, it } from 'vitest';
import { orientationsOf, orientationsOfGraph } from '../../../worker/engine/impact/index.ts';
import { goldberg } from '../../../worker/engine/tiling/index.ts';
import { doubleShell } from '../lattice/samples.ts';

const named = (m: number, n: number, count = 5) =>
  orientationsOf(doubleShell(m, n, [80, 70], [2, 2, 2]), goldberg(m, n).symmetry.rotations, count, 1);

describe('orientations of a ball', () => {
  it.each([
    // What lies on the three- and two-fold axes: T = 1 has nodes and struts there; m - n a multiple of 3 puts a hexagon on the first, else a node;
    // m and n both even puts a hexagon on the second, else a strut (textbook facts of icosahedral tilings).
    [1, 0, ['pentagon', 'node', 'strut']],
    [1, 1, ['pentagon', 'hexagon', 'strut', 'node']],
    [2, 0, ['pentagon', 'node', 'hexagon', 'strut']],
    [2, 1, ['pentagon', 'node', 'strut', 'hexagon']],
    [3, 3, ['pentagon', 'hexagon', 'strut', 'node']],
    [4, 4, ['pentagon', 'hexagon', 'hexagon', 'node', 'strut']],
  ])('GP(%i,%i) is dropped on %j first', (m, n, names) => {
    expect(
      named(m, n)
        .map(({ name }) => name)
        .slice(0, names.length),
    ).toEqual(names);
  });

  it('are unit vectors, as many as asked for, the same for the same seed and others for another', () => {
    const lattice = doubleShell(2, 1, [80, 70], [2, 2, 2]);
    const group = goldberg(2, 1).symmetry.rotations;
    const [one, same, other] = [1, 1, 2].map((seed) => orientationsOf(lattice, group, 9, seed));
    expect(one).toHaveLength(9);
    for (const { down } of one) expect(Math.hypot(...down)).toBeCloseTo(1, 12);
    expect(one).toEqual(same);
    expect(one.slice(4)).not.toEqual(other.slice(4));
    expect(orientationsOf(lattice, group, 2, 1).map(({ name }) => name)).toEqual(['pentagon', 'node']);
  });

  it('of a bare graph begin with how it stands', () => {
    expect(orientationsOfGraph(3, 1).map(({ name }) => name)).toEqual(['as-stored', 'random-1', 'random-2']);
  });
});
