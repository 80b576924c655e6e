import { describe, expect, it } from 'vitest';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { type SlicedLayers, slice, unionSurface } from '../../../worker/engine/solid/index.ts';
import { latticeOf } from '../lattice/samples.ts';
import { graphOf, type Point } from '../print/samples.ts';
import { randomGraph } from './random-graphs.ts';
import { bar, momentsOf, moved, rotation, STILL, volumeOf } from './samples.ts';

const sliced = (graph: StrutGraph, layerMm: number): SlicedLayers => slice(graph, unionSurface(graph), null, layerMm);
const heights = ({ zMm }: SlicedLayers) => [...zMm];
const total = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0);
/** Volume by the layers, relative to the union's. */
const miss = (graph: StrutGraph, layerMm: number) => (layerMm * total(sliced(graph, layerMm).areaMm2)) / volumeOf(graph) - 1;

/** Sections of cylinders and balls are integrated to rounding, the arc's length to the six-point rule. */
const CLOSED = 1e-9;
/** Where a neighbour or an end begins along a section is searched for, and the arcs between are integrated, to this share of the section. */
const SEARCHED = 2e-5;

describe('a vertical strut', () => {
  it('is a stack of discs between two balls', () => {
    const [r, length] = [1.5, 10];
    const profile = sliced(bar([2, 3, -5], [2, 3, 5], 2 * r), 0.1);
    expect(profile.areaMm2).toHaveLength(130);
    expect(profile.zMinMm).toBeCloseTo(-6.5, 12);
    heights(profile).forEach((z, k) => {
      const beyond = Math.max(0, Math.abs(z) - length / 2);
      const radius = Math.sqrt(r * r - beyond * beyond);
      expect(Math.abs(profile.areaMm2[k] - Math.PI * radius ** 2), `z ${z}`).toBeLessThan(CLOSED * 10);
      expect(Math.abs(profile.contourMm[k] - 2 * Math.PI * radius), `z ${z}`).toBeLessThan(CLOSED * 10);
    });
  });

  it('of two diameters is a stack of growing discs', () => {
    const graph = bar([0, 0, 0], [0, 0, 8], 2, 4);
    const profile = sliced(graph, 0.5);
    heights(profile).forEach((z, k) => {
      // below the wide end's ball, which leaves the cone where 4 - t^2 = (2 - t/8)^2
      const cone = 1 + z / 8;
      if (z < 0 || z > 8 - (2 * 2 * (1 / 8)) / (1 + 1 / 64)) return;
      expect(Math.abs(profile.areaMm2[k] - Math.PI * cone ** 2), `z ${z}`).toBeLessThan(CLOSED * 10);
      expect(Math.abs(profile.contourMm[k] - 2 * Math.PI * cone), `z ${z}`).toBeLessThan(CLOSED * 10);
    });
  });
});

describe('a leaning strut', () => {
  it('is a stack of ellipses pi r^2 / cos(lean) away from its ends', () => {
    for (const lean of [0.2, 0.8, 1.3]) {
      const [r, length] = [1, 30];
      const to: Point = [length * Math.sin(lean), 0, length * Math.cos(lean)];
      const profile = sliced(bar([0, 0, 0], to, 2 * r), 0.25);
      const reach = r * Math.sin(lean);
      heights(profile).forEach((z, k) => {
        if (z < reach || z > to[2] - reach) return;
        expect(Math.abs(profile.areaMm2[k] * Math.cos(lean) - Math.PI * r * r), `lean ${lean}, z ${z}`).toBeLessThan(CLOSED);
        // Ramanujan's perimeter is good to 1e-5 up to an axis ratio of 5
        expect(Math.abs(profile.contourMm[k] / perimeter(r / Math.cos(lean), r) - 1)).toBeLessThan(1e-5);
      });
    }
  });
});

/** Perimeter of an ellipse by the midpoint rule, which converges to rounding on a periodic integrand. */
function perimeter(a: number, b: number): number {
  let sum = 0;
  for (let k = 0; k < 720; k++) {
    const t = ((k + 0.5) * Math.PI) / 360;
    sum += Math.hypot(a * Math.sin(t), b * Math.cos(t));
  }
  return (sum * Math.PI) / 360;
}

describe('a level strut', () => {
  it('is a stack of rectangles with round ends', () => {
    const [r, length] = [1.5, 12];
    for (const angle of [0, 0.7]) {
      const half: Point = [(length / 2) * Math.cos(angle), (length / 2) * Math.sin(angle), 0];
      const profile = sliced(bar([-half[0], -half[1], 0], half, 2 * r), 0.12);
      heights(profile).forEach((z, k) => {
        const width = Math.sqrt(Math.max(0, r * r - z * z));
        expect(Math.abs(profile.areaMm2[k] - (2 * width * length + Math.PI * width ** 2)), `z ${z}`).toBeLessThan(SEARCHED * 40);
        if (width > 0) expect(Math.abs(profile.contourMm[k] / (2 * length + 2 * Math.PI * width) - 1), `z ${z}`).toBeLessThan(SEARCHED);
      });
    }
  });

  it('that crosses another loses their common square once', () => {
    const graph = graphOf(
      [
        [0, 0, 0],
        [10, 0, 0],
        [0, 10, 0],
        [-10, 0, 0],
        [0, -10, 0],
      ],
      [1, 2, 3, 4].map((v) => [0, v, 2] as const),
    );
    const profile = sliced(graph, 0.4);
    heights(profile).forEach((z, k) => {
      if (Math.abs(z) > 0.9) return;
      const w = Math.sqrt(1 - z * z);
      expect(Math.abs(profile.areaMm2[k] / (2 * (40 * w + Math.PI * w * w) - 4 * w * w) - 1), `z ${z}`).toBeLessThan(SEARCHED);
      expect(Math.abs(profile.contourMm[k] / (2 * (40 + 2 * Math.PI * w) - 8 * w) - 1), `z ${z}`).toBeLessThan(SEARCHED);
    });
  });
});

describe('the stack of layers', () => {
  it('is centred on the object, holds all of it and has no plane through its centre', () => {
    for (const layerMm of [0.1, 0.37, 2]) {
      const profile = sliced(bar([0, 0, 0], [0, 0, 5], 2), layerMm);
      const top = profile.zMinMm + profile.areaMm2.length * layerMm;
      expect((profile.zMinMm + top) / 2).toBeCloseTo(2.5, 12);
      expect(top).toBeGreaterThanOrEqual(6 - 1e-9);
      expect(top - 6).toBeLessThan(layerMm + 1e-9);
      expect(profile.areaMm2.length % 2).toBe(0);
    }
  });

  it('of a random graph adds up to the union, and converges to it with the layer', () => {
    const misses = [0.2, 0.02].map((layerMm) => [1, 2, 3, 4, 5, 6].map((seed) => Math.abs(miss(randomGraph(seed), layerMm))));
    // every layer is its mean to 3e-4 of the usual one, or bent by less than 5e-4 of it; the signs differ
    const [coarse, fine] = misses.map((each) => each.reduce((sum, value) => sum + value, 0) / each.length);
    expect(coarse).toBeLessThan(5e-4);
    expect(fine).toBeLessThan(coarse / 5);
    expect(Math.max(...misses[1])).toBeLessThan(2e-4);
  });

  it.each([
    [1, 0, 'split-plane'],
    [1, 0, 'pentagon-up'],
    [1, 1, 'hexagon-up'],
    [1, 1, 'pentagon-up'],
    [2, 0, 'pentagon-up'],
    [2, 0, 'split-plane'],
  ] as const)('of GP(%i,%i) %s at 0.1 mm adds up to the union within 1e-4, whole faces of it level', (m, n, orientation) => {
    for (const relaxation of ['none', 'equal-edges'] as const) {
      const ball = {
        m,
        n,
        outsideDiameterMm: 90,
        layers: [
          { depthMm: 0, strutDiameterMm: 2.3 },
          { depthMm: 8, strutDiameterMm: 2 },
        ],
        posts: 2,
      };
      const { graph, symmetry } = latticeOf({ ...ball, orientation, relaxation });
      const { areaMm2, zMm, zMinMm } = slice(graph, unionSurface(graph), symmetry, 0.1);
      // measured: 4e-4 by middles alone, 8e-5 with the layers that bend met at their means
      expect(Math.abs((0.1 * total(areaMm2)) / volumeOf(graph) - 1), relaxation).toBeLessThan(1e-4);
      // each plane lies in its layer
      zMm.forEach((z, k) => expect(Math.abs((z - zMinMm) / 0.1 - (k + 0.5))).toBeLessThanOrEqual(0.5));
    }
  });

  it('does not jump where level struts lie in a plane', () => {
    // a dodecahedron on a two-fold axis has level edges at the top, at the bottom and in the plane z = 0 of GP(2,0)
    const { graph, symmetry } = latticeOf({ m: 2, n: 0, outsideDiameterMm: 40, layers: [{ depthMm: 0, strutDiameterMm: 3 }] });
    const { areaMm2 } = slice(graph, unionSurface(graph), symmetry, 0.04);
    const middle = areaMm2.length / 2;
    expect(areaMm2[middle - 1]).toBe(areaMm2[middle]);
    // sections change by some parts in a thousand over 0.04 mm; one level strut lost or doubled would be a tenth
    expect(Math.abs(areaMm2[middle] / areaMm2[middle + 1] - 1)).toBeLessThan(1e-2);
  });
});

describe('turning the object', () => {
  it('about the vertical changes no layer; upside down reverses the stack', () => {
    const graph = randomGraph(5);
    const before = sliced(graph, 0.3);
    const spun = sliced(moved(graph, { ...STILL, turn: rotation([0, 0, 1], 1) }), 0.3);
    const over = sliced(moved(graph, { ...STILL, turn: rotation([1, 0, 0], Math.PI) }), 0.3);
    const largest = Math.max(...before.areaMm2);
    before.areaMm2.forEach((area, k) => {
      expect(Math.abs(spun.areaMm2[k] - area) / largest, `layer ${k}`).toBeLessThan(SEARCHED);
      expect(Math.abs(over.areaMm2[before.areaMm2.length - 1 - k] - area) / largest, `layer ${k}`).toBeLessThan(SEARCHED);
    });
  });

  it('leaves the volume that the layers add up to', () => {
    const graph = randomGraph(6);
    const volume = momentsOf(graph)[0];
    for (const angle of [0.4, 1.1, 2]) {
      const turned = moved(graph, { ...STILL, turn: rotation([0.6, 0.8, 0], angle) });
      expect(Math.abs((0.02 * total(sliced(turned, 0.02).areaMm2)) / volume - 1)).toBeLessThan(2e-4);
    }
  });
});

describe('cancelling', () => {
  it('is polled between struts', () => {
    const graph = randomGraph(1);
    let polls = 0;
    const profile = slice(graph, unionSurface(graph), null, 0.5, () => ++polls > 2);
    expect(polls).toBeLessThan(graph.strutCount + graph.nodeCount);
    expect(total(profile.areaMm2)).toBeLessThan(total(sliced(graph, 0.5).areaMm2));
  });
});
