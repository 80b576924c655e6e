import { describe, expect, it } from 'vitest';
import { ENGINE_VERSION, result as resultSchema } from '../../openapi/index.ts';
import { type EngineInput, type EngineResult, evaluate } from '../../worker/engine/index.ts';
import { inputOf } from './inputs.ts';
import { NO_VARIATION } from './vary/no-variation.ts';

const inputTo = (depth: string, variation: object, more: object = {}) =>
  inputOf({ tests: { depth, variation, drop: { heightMm: 300, orientations: 2 } }, ...more });
const resultOf = (input: EngineInput): EngineResult => {
  const outcome = evaluate(input);
  if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome.result;
};
const FEW = { parts: 60, bouncingParts: 3 };

describe('a variation study in an evaluation', () => {
  it('is there only when asked for, at any depth, and bounces only where the depth has a drop', async () => {
    expect(resultOf(await inputOf()).variation).toBeNull();
    const names = Object.keys(resultOf(await inputTo('geometry', FEW)).variation!.quantities);
    expect(names).toContain('massProperties.massG');
    expect(names.some((name) => name.startsWith('rebound'))).toBe(false);
    const full = resultOf(await inputTo('full', FEW));
    expect(full.variation!.quantities['rebound.reboundHeightMm.mean'].count).toBe(3);
    const result = { engine: { version: ENGINE_VERSION, inputHash: 'sha256:0' }, ...full };
    expect(JSON.parse(JSON.stringify(result))).toEqual(resultSchema.parse(result));
  });

  it('is the same for the same seed and another for another', async () => {
    const study = async (seed: number) => resultOf(await inputTo('geometry', { ...FEW, seed })).variation;
    const first = await study(5);
    expect(await study(5)).toEqual(first);
    expect((await study(6))?.quantities).not.toEqual(first?.quantities);
  });

  it('judges the targets by their short names, and tells how sure the share is', async () => {
    const { massG } = resultOf(await inputOf()).massProperties;
    const reference = {
      targets: [
        { quantity: 'massG', min: massG / 2, max: massG * 2 },
        { quantity: 'peakForceN', max: 1 },
      ],
    };
    const { targets, all } = resultOf(await inputTo('geometry', FEW, { reference })).variation!;
    expect(targets[0]).toMatchObject({ quantity: 'massProperties.massG', within: { hits: 60, count: 60, share: 1, to: 1 } });
    expect(targets[0].within!.from).toBeLessThan(1);
    // no bounce at this depth: not a miss, but not judged
    expect(targets[1]).toMatchObject({ quantity: 'rebound.peakForceN', within: null });
    expect(all).toMatchObject({ hits: 60, count: 60 });
  });

  it('without scatter gives the design back, and names no source for what was given', async () => {
    const { variation, rebound, massProperties } = resultOf(await inputTo('full', { ...FEW, ...NO_VARIATION }));
    const { quantities, assumptions } = variation!;
    expect(assumptions).toEqual([]);
    expect(quantities['massProperties.massG'].mean).toBeCloseTo(massProperties.massG, 9);
    expect(quantities['massProperties.massG'].deviation).toBeLessThan(1e-9);
    // three parts in turn through the two orientations: each gives what the design gave there
    const heights = rebound!.byOrientation.map((each) => each.reboundHeightMm!);
    expect(quantities['rebound.reboundHeightMm.mean'].mean).toBeCloseTo((2 * heights[0] + heights[1]) / 3, 6);
  });

  it('that would leave struts without half their diameter ends the run by name, the design evaluated', async () => {
    const outcome = evaluate(await inputTo('geometry', { ...FEW, diameterScatterMm: 1 }));
    expect(outcome).toMatchObject({ kind: 'failed', error: { code: 'variation-too-large' } });
    if (outcome.kind === 'failed') expect(outcome.partial?.result.massProperties.massG).toBeGreaterThan(0);
  });

  it('is cancelled between two parts', async () => {
    let [at, looks] = ['', 0];
    const onStage = (stage: string) => {
      at = stage;
    };
    const outcome = evaluate(await inputTo('geometry', { parts: 5000 }), { onStage, isCancelled: () => at === 'variation' && ++looks > 5 });
    expect(outcome).toEqual({ kind: 'cancelled' });
    expect(looks).toBeLessThan(12);
  });
});
