import { describe, expect, it } from 'vitest';
import { BUILD_VOLUMES } from '../../../openapi/catalogue/build-volumes.ts';
import { lnPredicted, responseThrough } from '../../../worker/engine/calibration/index.ts';
import { evaluate } from '../../../worker/engine/evaluate.ts';
import { latticeOf, tilingOf } from '../../../worker/engine/laid-out.ts';
import { grown } from '../../../worker/engine/lattice/index.ts';
import { integrateUnion, unionSurface } from '../../../worker/engine/solid/index.ts';
import { responseOf, smallBall, TPU } from './samples.ts';

describe('the response of a version', () => {
  const set = smallBall(4, 3);
  const response = responseOf(set);
  const off = (quantity: string, x: number[], truth: number) => Math.exp(lnPredicted(response, quantity, x)) / truth - 1;

  it('weighs printed parts as the exact union does', () => {
    const { tiling } = tilingOf(set);
    const laid = latticeOf(set, tiling);
    if (laid.kind === 'fault') throw new Error('no lattice');
    for (const [inLayer, upright] of [
      [0.15, 0.15],
      [0.2, -0.1],
      [-0.15, 0.1],
    ]) {
      const { graph, symmetry } = grown(laid.lattice, { inLayer, upright }, tiling.symmetry.rotations);
      const massG = (integrateUnion(graph, unionSurface(graph), symmetry).moments[0] * TPU.densityGCm3) / 1000;
      // node spheres follow the thickest of their struts: a kink where growths differ, of which the probes see one side, 0.3 % at 0.3 mm apart
      expect(Math.abs(off('massG', [inLayer, upright, 0, 0, 0, 0], massG))).toBeLessThan(5e-3);
    }
  });

  it('presses and drops them as a whole evaluation of the calibrated material does', () => {
    const material = {
      ...TPU,
      ...{ densityGCm3: TPU.densityGCm3 * 0.97, modulusMPa: TPU.modulusMPa * 1.15, lossFactor: TPU.lossFactor! * 0.85 },
      ...{ strutGrowthMm: { inLayer: 0.12, upright: 0.03 }, jointFactor: 1.08 },
    };
    const outcome = evaluate({
      parameterSet: set,
      material: material as Parameters<typeof evaluate>[0]['material'],
      buildVolume: BUILD_VOLUMES[0] as Parameters<typeof evaluate>[0]['buildVolume'],
      reference: null,
      tests: { depth: 'full', compression: { toPctOfDiameter: 5, secantAtPct: 5 }, drop: { heightMm: 1000, orientations: 3, seed: 1 } },
    });
    if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome.kind === 'failed' ? outcome.error : outcome.kind));
    const { massProperties, stiffness, rebound, geometry } = outcome.result;
    const x = [0.12, 0.03, Math.log(0.97), Math.log(1.15), Math.log(0.85), Math.log(1.08)];
    expect(Math.abs(off('massG', x, massProperties.massG))).toBeLessThan(1e-3);
    expect(Math.abs(off('outsideDiameterMm', x, geometry.outsideDiameterMm))).toBeLessThan(2e-4);
    // products of two changes of up to 15 % are left out of ln q: a few tenths of a percent
    expect(Math.abs(off('stiffnessNPerMm', x, stiffness!.secantNPerMm!))).toBeLessThan(0.01);
    expect(Math.abs(off('restitution', x, rebound!.restitution!.mean))).toBeLessThan(0.005);
  });

  it('goes through its probes', () => {
    const probes = { strutDiameterMm: 3, growthMm: 0.15, asDesigned: 1, thicker: 1.11, thinner: 0.9, inLayer: 1.07, lossCurvature: -0.1 };
    const made = responseThrough({ ...probes, others: [0.1, 0.2, 0.3, 0.4] });
    const version = { strutDiameterMm: 3, quantities: { q: made } };
    const ln = (a: number, b: number) => lnPredicted(version, 'q', [a, b, 0, 0, 0, 0]);
    expect(ln(0, 0)).toBeCloseTo(1, 12);
    expect(ln(0.15, 0.15)).toBeCloseTo(1.11, 12);
    expect(ln(-0.15, -0.15)).toBeCloseTo(0.9, 12);
    expect(ln(0.15, 0)).toBeCloseTo(1.07, 9);
  });
});
