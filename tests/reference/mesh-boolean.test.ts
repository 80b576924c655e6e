import { describe, expect, it } from 'vitest';
import { integrateUnion, unionSurface } from '../../worker/engine/solid/index.ts';
import { momentsApart } from '../engine/solid/samples.ts';
import { extrapolatedUnion } from './mesh-boolean.ts';
import { QUICK_SOLIDS } from './mesh-solids.ts';

describe('union by a mesh Boolean [manifold-3d, extrapolated over three meshes; status: computed beside]', () => {
  it.each(QUICK_SOLIDS.map((solid) => [solid.name, solid] as const))('%s', async (_, { graph, symmetry, segments }) => {
    const { moments, errorMm3, finestMm3 } = await extrapolatedUnion(graph, segments);
    const found = integrateUnion(graph, unionSurface(graph), symmetry).moments;
    // what the last step of the extrapolation moved: measured at 5e-5 of the volume from 8 segments; it is less than what each solid is there to show
    expect(errorMm3 / found[0]).toBeLessThan(1e-4);
    expect(Math.abs(found[0] - moments[0])).toBeLessThan(errorMm3);
    expect(momentsApart(found, moments)).toBeLessThan(errorMm3 / found[0]);
    // far better than the finest mesh itself, which lacks what its facets cut off
    expect(Math.abs(found[0] - moments[0])).toBeLessThan(0.02 * (found[0] - finestMm3));
  });
});
