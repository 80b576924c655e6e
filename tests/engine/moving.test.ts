import { describe, expect, it } from 'vitest';
import { ENGINE_VERSION, result as resultSchema } from '../../openapi/index.ts';
import { type EngineInput, type EngineResult, evaluate } from '../../worker/engine/index.ts';
import { inputOf, SMALL_BALL } from './inputs.ts';

const inputTo = (motion: object, more: object = {}) => inputOf({ tests: { motion }, ...more });
const resultOf = (input: EngineInput): EngineResult => {
  const outcome = evaluate(input);
  if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome.result;
};
const gradient = { axis: 'z', fromFactor: 0.9, toFactor: 1.1 };
const lopsided = { ...SMALL_BALL, layers: SMALL_BALL.layers.map((layer) => ({ ...layer, gradient })) };

describe('a part in motion', () => {
  it('is there only as far as it is asked for', async () => {
    expect(resultOf(await inputOf()).motion).toBeNull();
    expect(resultOf(await inputTo({ spin: {} })).motion).toMatchObject({ roll: null, spin: {} });
    const both = resultOf(await inputTo({ roll: { starts: 2, distanceMm: 300 }, spin: {} }));
    expect(both.motion?.roll?.starts).toBe(2);
    const result = { engine: { version: ENGINE_VERSION, inputHash: 'sha256:0' }, ...both };
    expect(JSON.parse(JSON.stringify(result))).toEqual(resultSchema.parse(result));
  });

  it('spins true when it is as symmetric as it was designed, and wobbles when one side is heavier', async () => {
    const { spin } = resultOf(await inputTo({ spin: {} })).motion!;
    expect(spin).toMatchObject({ wobbleDeg: 0, wobbleHz: null, circles: 'none' });
    expect(spin!.unbalanceGMm).toBeLessThan(1e-6);
    const { motion, massProperties, balance } = resultOf(
      await inputTo({ spin: { spinRadS: 20, axis: [1, 0, 1] } }, { parameterSet: lopsided }),
    );
    expect(motion!.spin!.wobbleDeg).toBeGreaterThan(0);
    expect(motion!.spin!.unbalanceGMm).toBeCloseTo(massProperties.massG * balance.centreOfMassOffsetMm, 9);
    expect(motion!.spin!.centreSpeedMmS).toBeCloseTo(20 * balance.centreOfMassOffsetMm, 9);
  });

  it('ends by name where the floor is too soft for it, and keeps the rest', async () => {
    const outcome = evaluate(await inputTo({ roll: { starts: 1, stiffnessNPerMm: 0.01 } }));
    expect(outcome).toMatchObject({ kind: 'failed', error: { code: 'roll-too-soft' } });
    if (outcome.kind === 'failed')
      expect(outcome.partial?.result).toMatchObject({ motion: null, massProperties: { massG: expect.any(Number) } });
  });

  it('rolls on spheres twice as stiff as it is between plates, where that is computed and nothing else is asked for', async () => {
    const tests = { depth: 'static', compression: { toPctOfDiameter: 1, secantAtPct: 1 }, frequencies: 1 };
    const told = async (roll: object) => {
      const { motion, stiffness } = resultOf(
        await inputOf({ tests: { ...tests, motion: { roll: { starts: 1, distanceMm: 300, ...roll } } } }),
      );
      return { told: motion!.roll!.assumptions.join(' '), slope: stiffness!.initialNPerMm! };
    };
    const usual = await told({});
    expect(usual.told).toContain(`${(2 * usual.slope).toPrecision(3)} N/mm`);
    expect((await told({ stiffnessNPerMm: 77 })).told).toContain('77.0 N/mm');
  });

  it('is cancelled between two looks of a roll', async () => {
    let [at, looks] = ['', 0];
    const onStage = (stage: string) => {
      at = stage;
    };
    const outcome = evaluate(await inputTo({ roll: { starts: 50 } }), { onStage, isCancelled: () => at === 'motion' && ++looks > 2 });
    expect(outcome).toEqual({ kind: 'cancelled' });
    expect(looks).toBeLessThan(8);
  });
});
