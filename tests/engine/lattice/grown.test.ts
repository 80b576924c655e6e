import { describe, expect, it } from 'vitest';
import { grown } from '../../../worker/engine/lattice/index.ts';
import { integrateUnion, unionSurface } from '../../../worker/engine/solid/index.ts';
import { latticeOf, parametersOf, tilingOf } from './samples.ts';

const BALL = {
  m: 1,
  n: 1,
  outsideDiameterMm: 100,
  layers: [
    { depthMm: 0, strutDiameterMm: 4 },
    { depthMm: 9, strutDiameterMm: 3, taper: 0.8 },
  ],
  posts: 3,
};
const lattice = latticeOf(BALL);
const { rotations } = tilingOf(parametersOf(BALL)).symmetry;
const volume = ({ graph, symmetry }: ReturnType<typeof latticeOf>) => integrateUnion(graph, unionSurface(graph), symmetry).moments[0];

describe('a lattice as it prints', () => {
  it('is the same one without growth', () => {
    expect(grown(lattice, { inLayer: 0, upright: 0 }, rotations)).toBe(lattice);
  });

  it('grown alike is the lattice of thicker struts about the same centre lines', () => {
    const { graph, spanDiameterMm, symmetry } = grown(lattice, { inLayer: 0.2, upright: 0.2 }, rotations);
    expect(graph.xyz).toBe(lattice.graph.xyz);
    expect(symmetry).toBe(lattice.symmetry);
    for (const [end, d] of graph.diameters.entries()) expect(d).toBeCloseTo(lattice.graph.diameters[end] + 0.2, 12);
    for (const [span, d] of spanDiameterMm.entries()) expect(d).toBeCloseTo(lattice.spanDiameterMm[span] + 0.2, 12);
    expect(Math.max(...graph.nodeRadius)).toBeCloseTo(2.1, 12);
  });

  it('grown more one way keeps the symmetry that allows it, and weighs what it weighs without any', () => {
    const printed = grown(lattice, { inLayer: 0.3, upright: -0.1 }, rotations);
    const order = (symmetry: typeof printed.symmetry) => (symmetry?.rotations.length ?? 9) / 9;
    expect(order(printed.symmetry)).toBeLessThan(order(lattice.symmetry));
    expect(volume(printed)).toBeCloseTo(volume({ ...printed, symmetry: null }), 4);
    // a strut along z has the upright growth, one in the layer the other: all lie between
    for (const [end, d] of printed.graph.diameters.entries()) {
      expect(d - lattice.graph.diameters[end]).toBeGreaterThan(-0.1 - 1e-12);
      expect(d - lattice.graph.diameters[end]).toBeLessThan(0.3 + 1e-12);
    }
  });

  it('never loses a strut', () => {
    expect(Math.min(...grown(lattice, { inLayer: -10, upright: -10 }, rotations).graph.diameters)).toBeGreaterThan(0);
  });
});
