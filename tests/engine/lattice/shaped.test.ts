import { describe, expect, it } from 'vitest';
import type { Lattice, ParameterSet } from '../../../worker/engine/lattice/index.ts';
import { buildLattice } from '../../../worker/engine/lattice/index.ts';
import { integrateUnion, unionSurface } from '../../../worker/engine/solid/index.ts';
import { momentsApart } from '../solid/samples.ts';
import { apply, at, finder } from '../tiling/samples.ts';
import { tilingOf } from './samples.ts';

/** Coordinates and diameters of up to 100 mm: a few units of the last place. */
const ROUNDING = 1e-12;
type Layer = ParameterSet['layers'][number];

function build(layers: readonly Layer[], links: ParameterSet['links'], tiling: Partial<ParameterSet['tiling']> = {}): Lattice {
  const set: ParameterSet = {
    carrier: { shape: 'sphere', outsideDiameterMm: 100 },
    tiling: { kind: 'goldberg', m: 1, n: 1, relaxation: 'none', orientation: 'split-plane', ...tiling },
    layers,
    links,
  };
  const built = buildLattice(set, tilingOf(set));
  if ('refused' in built) throw new Error(built.message);
  return built;
}
const posts = (diameter: number) => ({ pattern: 'posts', strutDiameterMm: diameter }) as const;
const node = ({ graph }: Lattice, v: number) => at(graph.xyz, v);
const gap = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const endsOf = ({ graph }: Lattice, s: number) => [...graph.ends.subarray(2 * s, 2 * s + 2)];
const diametersOf = ({ graph }: Lattice, s: number) => [...graph.diameters.subarray(2 * s, 2 * s + 2)];
const widestReach = ({ graph }: Lattice) => Math.max(...graph.nodeRadius.map((radius, v) => Math.hypot(...at(graph.xyz, v)) + radius));

describe('a tapered layer', () => {
  const plain = build(
    [
      { depthMm: 0, strutDiameterMm: 3 },
      { depthMm: 10, strutDiameterMm: 2 },
    ],
    posts(2),
  );
  const tapered = build(
    [
      { depthMm: 0, strutDiameterMm: 3, taper: 0.6 },
      { depthMm: 10, strutDiameterMm: 2 },
    ],
    posts(2),
  );
  const spans = tapered.strutsPerLayer;

  it('has a node in the middle of each of its struts, and two cones that meet there', () => {
    expect(tapered.graph.nodeCount).toBe(plain.graph.nodeCount + spans);
    expect(tapered.graph.strutCount).toBe(plain.graph.strutCount + spans);
    for (let e = 0; e < spans; e++) {
      const [a, middle] = endsOf(tapered, e);
      const [again, b] = endsOf(tapered, plain.graph.strutCount + e);
      expect([a, b]).toEqual(endsOf(plain, e));
      expect(again).toBe(middle);
      node(tapered, middle).forEach((x, i) => expect(Math.abs(x - (node(plain, a)[i] + node(plain, b)[i]) / 2)).toBeLessThan(ROUNDING));
      expect(diametersOf(tapered, e)).toEqual([3, expect.closeTo(1.8, 12)]);
      expect(diametersOf(tapered, plain.graph.strutCount + e)).toEqual([expect.closeTo(1.8, 12), 3]);
    }
  });

  it('leaves the other layers and the posts as they were', () => {
    for (let s = spans; s < plain.graph.strutCount; s++) {
      expect(endsOf(tapered, s)).toEqual(endsOf(plain, s));
      expect(diametersOf(tapered, s)).toEqual(diametersOf(plain, s));
    }
  });

  it('tells of every strut which span it belongs to, and how thick that is at most', () => {
    expect(tapered.spanCount).toBe(plain.graph.strutCount);
    expect([...tapered.spanOf]).toEqual([...Array(plain.graph.strutCount).keys(), ...Array(spans).keys()]);
    expect(tapered.spanDiameterMm[0]).toBe(3);
    expect(build([{ depthMm: 0, strutDiameterMm: 3, taper: 1.5 }], { pattern: 'none' }).spanDiameterMm[0]).toBeCloseTo(4.5, 12);
  });

  it('has the group and the weight it should: a bulge adds what a waist takes', () => {
    expect(tapered.symmetry?.rotations).toHaveLength(9 * 60);
    const volume = (taper: number) => {
      const { graph, symmetry } = build([{ depthMm: 0, strutDiameterMm: 3, taper }], { pattern: 'none' });
      return integrateUnion(graph, unionSurface(graph), symmetry).moments[0];
    };
    expect(volume(0.8)).toBeLessThan(volume(1));
    expect(volume(1.2)).toBeGreaterThan(volume(1));
  });
});

describe('a graded layer', () => {
  const gradient = { axis: 'z', fromFactor: 0.5, toFactor: 1.5 } as const;
  const graded = build(
    [
      { depthMm: 0, strutDiameterMm: 3, gradient },
      { depthMm: 10, strutDiameterMm: 2 },
    ],
    posts(2),
  );

  it('has at every place the diameter times the factor that runs straight from one side of the object to the other', () => {
    for (let s = 0; s < graded.strutsPerLayer; s++) {
      endsOf(graded, s).forEach((v, end) => {
        const z = graded.graph.xyz[3 * v + 2];
        expect(Math.abs(diametersOf(graded, s)[end] - 3 * (1 + z / 100))).toBeLessThan(ROUNDING);
      });
    }
    expect(diametersOf(graded, graded.strutsPerLayer)).toEqual([2, 2]);
  });

  it.each(['x', 'y', 'z'] as const)('along %s touches its circumscribed sphere and never reaches out of it', (axis) => {
    const one = build([{ depthMm: 0, strutDiameterMm: 4, gradient: { axis, fromFactor: 0.4, toFactor: 1.6 } }], { pattern: 'none' });
    expect(Math.abs(widestReach(one) - 50)).toBeLessThan(ROUNDING);
    const linked = build(
      [
        { depthMm: 0, strutDiameterMm: 2 },
        { depthMm: 12, strutDiameterMm: 2 },
      ],
      {
        ...posts(4),
        gradient: { axis, fromFactor: 0.4, toFactor: 1.6 },
      },
    );
    expect(Math.abs(widestReach(linked) - 50)).toBeLessThan(ROUNDING);
  });

  it('keeps the rotations about its axis only, and is integrated alike with and without them', () => {
    for (const [axis, orientation, order] of [
      ['z', 'split-plane', 2],
      ['z', 'pentagon-up', 5],
      ['z', 'hexagon-up', 3],
      ['x', 'split-plane', 2],
      ['x', 'pentagon-up', 2],
      ['y', 'pentagon-up', 1],
    ] as const) {
      const { graph, symmetry } = build(
        [{ depthMm: 0, strutDiameterMm: 3, gradient: { ...gradient, axis } }],
        { pattern: 'none' },
        { orientation },
      );
      expect((symmetry?.rotations.length ?? 9) / 9, `${axis} ${orientation}`).toBe(order);
      const surface = unionSurface(graph);
      const [whole, byOrbit] = [null, symmetry].map((each) => integrateUnion(graph, surface, each).moments);
      // two sets of quadrature nodes
      expect(momentsApart(whole, byOrbit)).toBeLessThan(1e-9);
    }
  });
});

describe('a braced lattice', () => {
  const layers = [
    { depthMm: 0, strutDiameterMm: 3 },
    { depthMm: 10, strutDiameterMm: 2 },
    { depthMm: 18, strutDiameterMm: 2 },
  ];
  const straight = build(layers, posts(1.5));
  const braced = build(layers, { pattern: 'braced', strutDiameterMm: 1.5 });
  const windows = 2 * straight.strutsPerLayer;

  it('has one node more and four struts more for every quadrilateral between neighbouring posts', () => {
    expect(braced.graph.nodeCount).toBe(straight.graph.nodeCount + windows);
    expect(braced.graph.strutCount).toBe(straight.graph.strutCount + 4 * windows);
    expect(braced.graph.roleNames).toEqual(['layer-0', 'layer-1', 'layer-2', 'link', 'brace']);
    const roles = Array.from(braced.graph.roles, (role) => braced.graph.roleNames[role]);
    expect(roles.filter((role) => role === 'brace')).toHaveLength(4 * windows);
  });

  it('crosses both diagonals of each in its node, which lies on both', () => {
    for (let w = 0; w < windows; w++) {
      const crossing = straight.graph.nodeCount + w;
      const [k, e] = [Math.floor(w / straight.strutsPerLayer), w % straight.strutsPerLayer];
      const [a, b] = endsOf(straight, k * straight.strutsPerLayer + e);
      const corners = [a, b, a + straight.nodesPerLayer, b + straight.nodesPerLayer];
      const first = straight.graph.strutCount + 4 * w;
      expect([0, 1, 2, 3].map((i) => endsOf(braced, first + i))).toEqual(corners.map((corner) => [corner, crossing]));
      for (const [from, to] of [
        [corners[0], corners[3]],
        [corners[1], corners[2]],
      ]) {
        const [p, q, x] = [from, to, crossing].map((v) => node(braced, v));
        // on a line the way over a point is no longer than the straight one
        expect(gap(p, x) + gap(x, q) - gap(p, q)).toBeLessThan(ROUNDING);
      }
    }
  });

  it('keeps every rotation, and is integrated alike by orbits and strut by strut', () => {
    expect(braced.symmetry?.rotations).toHaveLength(9 * 60);
    const surface = unionSurface(braced.graph);
    const [whole, byOrbit] = [null, braced.symmetry].map((each) => integrateUnion(braced.graph, surface, each).moments);
    expect(momentsApart(whole, byOrbit)).toBeLessThan(1e-9);
  });
});

describe('the symmetry of a shaped lattice', () => {
  it('is the whole subgroup of rotations that carry it onto itself, diameters included', () => {
    const gradient = { axis: 'y', fromFactor: 0.7, toFactor: 1.3 } as const;
    const shaped = build(
      [
        { depthMm: 0, strutDiameterMm: 3, taper: 0.8, gradient },
        { depthMm: 10, strutDiameterMm: 2 },
      ],
      posts(2),
    );
    const { graph } = shaped;
    const find = finder(graph.xyz);
    const all = tilingOf({
      carrier: { shape: 'sphere', outsideDiameterMm: 100 },
      tiling: { kind: 'goldberg', m: 1, n: 1, relaxation: 'none', orientation: 'split-plane' },
      layers: [],
      links: { pattern: 'none' },
    }).symmetry.rotations;
    const thick = new Map<string, number>();
    for (let s = 0; s < graph.strutCount; s++) {
      const [a, b] = endsOf(shaped, s);
      thick.set(`${a}-${b}`, diametersOf(shaped, s)[0]);
      thick.set(`${b}-${a}`, diametersOf(shaped, s)[1]);
    }
    let kept = 0;
    for (let g = 0; g < all.length; g += 9) {
      const image = Array.from({ length: graph.nodeCount }, (_, v) => find(apply(all, at(graph.xyz, v), g)));
      const same = [...thick].every(([name, diameter]) => {
        const [a, b] = name.split('-').map((v) => image[Number(v)]);
        return Math.abs((thick.get(`${a}-${b}`) ?? Number.NaN) - diameter) < 1e-9;
      });
      if (same) kept++;
    }
    expect(kept).toBe(2);
    expect(shaped.symmetry?.rotations).toHaveLength(9 * kept);
  });
});
