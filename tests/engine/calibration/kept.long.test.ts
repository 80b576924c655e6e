import { describe, expect, it } from 'vitest';
import { BUILD_VOLUMES } from '../../../openapi/catalogue/build-volumes.ts';
import { calibrationOf } from '../../../worker/engine/calibrating.ts';
import { evaluate } from '../../../worker/engine/evaluate.ts';
import { deviates } from '../../../worker/engine/probability/index.ts';
import { CONDITIONS, NOISE, smallBall, TPU } from './samples.ts';

/** What the printer does to parts here, known to the test alone: thicker struts, a lighter and stiffer polymer that loses less. */
const TRUE_MATERIAL = {
  ...TPU,
  ...{ densityGCm3: TPU.densityGCm3 * 0.96, modulusMPa: TPU.modulusMPa * 1.2, lossFactor: TPU.lossFactor! * 0.75 },
  ...{ strutGrowthMm: { inLayer: 0.2, upright: 0.08 }, jointFactor: 1.1 },
};
const SETS = [smallBall(4, 3), smallBall(5, 3.2), smallBall(3.4, 4), smallBall(4.6, 3.6)];

/** Whole evaluations of a version of some material. */
function evaluated(parameterSet: (typeof SETS)[number], material: object): Record<string, number> {
  const tests = {
    ...{ depth: 'full', compression: { toPctOfDiameter: CONDITIONS.secantAtPct, secantAtPct: CONDITIONS.secantAtPct } },
    drop: { heightMm: CONDITIONS.dropHeightMm, orientations: 3, seed: 1 },
  };
  const input = { parameterSet, material, buildVolume: BUILD_VOLUMES[0], reference: null, tests };
  const outcome = evaluate(input as unknown as Parameters<typeof evaluate>[0]);
  if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome.kind === 'failed' ? outcome.error : outcome.kind));
  const { massProperties, geometry, stiffness, rebound } = outcome.result;
  return {
    ...{ massG: massProperties.massG, outsideDiameterMm: geometry.outsideDiameterMm },
    ...{ stiffnessNPerMm: stiffness!.secantNPerMm!, restitution: rebound!.restitution!.mean },
  };
}

describe('a calibration from half of the versions', () => {
  it('halves the error of whole evaluations of the other half at least', () => {
    const truth = SETS.map((set) => evaluated(set, TRUE_MATERIAL));
    const { normal } = deviates(3, 5);
    const observations = [0, 1].flatMap((version) =>
      Array.from({ length: 4 }).flatMap(() =>
        Object.entries(NOISE).map(([quantity, noise]) => ({
          ...{ version, quantity, ...noise, instrument: 'one', measurementId: 'none' },
          value: truth[version][quantity] * Math.exp((noise.scatterPct * normal()) / 100),
        })),
      ),
    );
    const versions = SETS.slice(0, 2).map((parameterSet, k) => ({ versionId: String(k), number: k + 1, parameterSet }));
    const input = { material: TPU, conditions: CONDITIONS, versions, observations, noise: NOISE, candidates: [], targets: [] };
    const outcome = calibrationOf(input as unknown as Parameters<typeof calibrationOf>[0]);
    if (outcome.kind !== 'done') throw new Error(`the calibration is ${outcome.kind}`);
    const { material } = outcome.result;
    const errors = (of: object) =>
      [2, 3].flatMap((k) => {
        const found = evaluated(SETS[k], of);
        return Object.keys(NOISE).map((quantity) => Math.log(found[quantity] / truth[k][quantity]));
      });
    const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, each) => sum + each * each, 0) / values.length);
    const [before, after] = [rms(errors(TPU)), rms(errors(material))];
    process.stdout.write(
      `versions kept from the fit: off by ${(100 * before).toFixed(2)} % as designed, ${(100 * after).toFixed(2)} % calibrated\n`,
    );
    expect(after).toBeLessThan(before / 2);
  });
});
