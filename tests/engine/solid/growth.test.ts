import { describe, expect, it } from 'vitest';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { findTouching, growthOf, MOMENTS, unionSurface } from '../../../worker/engine/solid/index.ts';
import { doubleShell } from '../lattice/samples.ts';
import { graphOf, type Point } from '../print/samples.ts';
import { bar, momentsApart, momentsOf, random, star, wideDirections } from './samples.ts';

const growth = (graph: StrutGraph) => growthOf(graph, unionSurface(graph), null);
const sumOf = (rows: Float64Array) =>
  Float64Array.from({ length: MOMENTS }, (_, k) => rows.filter((_, i) => i % MOMENTS === k).reduce((sum, x) => sum + x, 0));
const added = (a: Float64Array, b: Float64Array) => a.map((x, k) => x + b[k]);

/** Radii grown by these; a node's sphere keeps its own. */
const grown = (graph: StrutGraph, struts: (s: number) => number, nodes: (v: number) => number): StrutGraph => ({
  ...graph,
  diameters: graph.diameters.map((d, end) => d + 2 * struts(end >> 1)),
  nodeRadius: graph.nodeRadius.map((r, v) => r + nodes(v)),
});

/** Central difference, step h: errs by h^2 / 6 of the third derivative (2 pi per mm and end at most) and by 1e-13 of the moments over h. */
const STEP = 1e-3;
const slope = (at: (h: number) => StrutGraph) => {
  const [more, less] = [momentsOf(at(STEP)), momentsOf(at(-STEP))];
  return more.map((x, k) => (x - less[k]) / (2 * STEP));
};

describe('growth of the union', () => {
  it('of a lone strut is its side, and of its ends their half spheres', () => {
    const { strut, node } = growth(bar([1, 2, 3], [1, 2, 13], 4));
    expect(strut[0]).toBeCloseTo(2 * Math.PI * 2 * 10, 10);
    expect(node[0]).toBeCloseTo(2 * Math.PI * 4, 10);
    // The side's centre is the strut's middle; a half sphere's (of its area) half a radius outward.
    expect([1, 2, 3].map((k) => strut[k] / strut[0])).toEqual([1, 2, 8].map((x) => expect.closeTo(x, 10)));
    expect(node[3] / node[0]).toBeCloseTo(3 - 1, 10);
  });

  it('of all radii together is the slope of all ten moments', () => {
    const next = random(4);
    for (let k = 0; k < 4; k++) {
      const arms = wideDirections(next, 4).map((direction) => ({
        direction,
        length: 9 + 4 * next(),
        diameter: 2 + 2 * next(),
        free: 2 + next(),
      }));
      const graph = star(arms);
      const { strut, node } = growth(graph);
      const told = added(sumOf(strut), sumOf(node));
      const found = slope((h) =>
        grown(
          graph,
          () => h,
          () => h,
        ),
      );
      expect(momentsApart(told, found)).toBeLessThan(3e-6);
    }
  });

  it('of one strut or one sphere is its own slope, where no other is as wide', () => {
    // The node's sphere is that of arm 0, the widest, so the others may grow and shrink beneath it.
    const directions = wideDirections(random(9), 4);
    const graph = star(directions.map((direction, k) => ({ direction, length: 10, diameter: k === 0 ? 4 : 2.6 + 0.3 * k, free: 2 })));
    const { strut, node } = growth(graph);
    for (const chosen of [1, 2, 3]) {
      const at = (h: number) => ({
        ...grown(
          graph,
          (s) => (s === chosen ? h : 0),
          () => 0,
        ),
      });
      // The free end's sphere would be left behind by a wider strut: only the end at the node is told apart, so both ends move with it.
      const both = (h: number) =>
        grown(
          at(h),
          () => 0,
          (v) => (v === chosen + 1 ? h : 0),
        );
      const told = added(
        strut.subarray(MOMENTS * chosen, MOMENTS * (chosen + 1)),
        node.subarray(MOMENTS * (chosen + 1), MOMENTS * (chosen + 2)),
      );
      expect(momentsApart(told, slope(both))).toBeLessThan(3e-6);
    }
    const sphere = slope((h) =>
      grown(
        graph,
        () => 0,
        (v) => (v === 0 ? h + 0.3 : 0),
      ),
    );
    const wide = grown(
      graph,
      () => 0,
      (v) => (v === 0 ? 0.3 : 0),
    );
    expect(momentsApart(growth(wide).node.subarray(0, MOMENTS), sphere)).toBeLessThan(3e-6);
  });

  it('holds where struts cross without meeting', () => {
    const points: Point[] = [
      [-8, 0, 0],
      [8, 1, 0],
      [0.5, -7, 1.2],
      [0, 8, 1.4],
    ];
    const graph = graphOf(points, [
      [0, 1, 3],
      [2, 3, 2.4],
    ]);
    const touching = findTouching(graph);
    const moments = (h: number) => {
      const g = grown(
        graph,
        () => h,
        () => h,
      );
      const surface = unionSurface(g, [0, 0, 0], touching);
      const out = new Float64Array(MOMENTS);
      for (let s = 0; s < 2; s++) surface.addStrut(s, out);
      for (let v = 0; v < 4; v++) surface.addNode(v, out);
      return out;
    };
    const { strut, node } = growthOf(graph, unionSurface(graph, [0, 0, 0], touching), null);
    const [more, less] = [moments(STEP), moments(-STEP)];
    expect(
      momentsApart(
        added(sumOf(strut), sumOf(node)),
        more.map((x, k) => (x - less[k]) / (2 * STEP)),
      ),
    ).toBeLessThan(3e-6);
  });

  it('on one side of a plane is the slope of the part on that side', () => {
    const graph = bar([0, 0, -2], [0, 0, 8], 4);
    const out = new Float64Array(MOMENTS);
    unionSurface(graph).growStrut(0, out, [0, 0, 1]);
    expect(out[0]).toBeCloseTo(2 * Math.PI * 2 * 8, 9);
  });

  it('by symmetry is the same as each by itself', () => {
    const { graph, symmetry } = doubleShell(2, 1, [40, 32], [3, 2.4, 2.6]);
    const surface = unionSurface(graph);
    const [whole, turned] = [growthOf(graph, surface, null), growthOf(graph, surface, symmetry)];
    for (const kind of ['strut', 'node'] as const) {
      const most = whole[kind].reduce((m, x) => Math.max(m, Math.abs(x)), 0);
      // Places of images agree to 1e-6 mm at most, and far better; quadrature to 1e-9.
      expect(Math.max(...whole[kind].map((x, k) => Math.abs(x - turned[kind][k])))).toBeLessThan(1e-8 * most);
    }
  });
});
