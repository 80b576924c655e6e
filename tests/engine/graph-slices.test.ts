import { describe, expect, it } from 'vitest';
import { heightOfGraph, massOfGraph, slicesOfGraph } from '../../worker/engine/index.ts';
import { latticeOf } from './lattice/samples.ts';
import { randomGraph } from './solid/random-graphs.ts';
import { bar, moved, STILL } from './solid/samples.ts';

const lattice = latticeOf({ m: 1, n: 1, outsideDiameterMm: 70, layers: [{ depthMm: 0, strutDiameterMm: 4 }] });
const ball = lattice.graph;

describe('slices of a graph', () => {
  it('have the volume that its mass properties have', () => {
    for (const graph of [ball, randomGraph(2)]) expect(slicesOfGraph(graph, 1).volumeMm3).toBe(massOfGraph(graph, 1).volumeMm3);
  });

  it('are one in each layer, about the middle of the solid, and hold all of it', () => {
    for (const layerMm of [0.5, 3]) {
      const { layers } = slicesOfGraph(moved(ball, { ...STILL, shift: [0, 0, 12] }), layerMm);
      const bottom = 12 - (layers.length / 2) * layerMm;
      layers.forEach(({ zMm }, k) => expect(Math.floor((zMm - bottom) / layerMm)).toBe(k));
      expect((layers[0].zMm + layers[layers.length - 1].zMm) / 2).toBeCloseTo(12, 9);
      expect(layers.length * layerMm).toBeGreaterThanOrEqual(heightOfGraph(ball) - 1e-9);
    }
  });

  it('do not change far from the origin', () => {
    const { layers: near, volumeMm3 } = slicesOfGraph(ball, 1);
    const { layers: far, volumeMm3: volumeFar } = slicesOfGraph(moved(ball, { ...STILL, shift: [4e5, -7e5, 5e5] }), 1);
    // coordinates keep ten decimals there
    expect(Math.abs(volumeFar / volumeMm3 - 1)).toBeLessThan(1e-10);
    const [largest, longest] = [Math.max(...near.map(({ areaMm2 }) => areaMm2)), Math.max(...near.map(({ contourMm }) => contourMm))];
    near.forEach(({ areaMm2, contourMm }, k) => {
      // where a section ends is searched for, to 2e-5 of it
      expect(Math.abs(far[k].areaMm2 - areaMm2) / largest).toBeLessThan(2e-5);
      expect(Math.abs(far[k].contourMm - contourMm) / longest).toBeLessThan(2e-5);
    });
  });

  it('are the same by the symmetry of the lattice', () => {
    const [plain, folded] = [slicesOfGraph(ball, 1), slicesOfGraph(ball, 1, { symmetry: lattice.symmetry })];
    // sums in another order
    expect(Math.abs(folded.volumeMm3 / plain.volumeMm3 - 1)).toBeLessThan(1e-10);
    const largest = Math.max(...plain.layers.map(({ areaMm2 }) => areaMm2));
    folded.layers.forEach(({ zMm, areaMm2 }, k) => {
      expect(zMm).toBeCloseTo(plain.layers[k].zMm, 9);
      // where a section ends is searched for, to 2e-5 of it
      expect(Math.abs(areaMm2 - plain.layers[k].areaMm2) / largest).toBeLessThan(2e-5);
    });
  });

  it('know the height of the solid, spheres included', () => {
    expect(heightOfGraph(bar([0, 0, -3], [1, 0, 5], 2, 4))).toBeCloseTo(8 + 1 + 2, 12);
  });
});
