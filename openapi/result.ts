import { z } from 'zod';
import { buildResult, costResult } from './build-result.ts';
import { jointsResult, lifeResult, materialResult, reboundResult, stiffnessResult, vibrationResult } from './mechanics-result.ts';
import { motionResult } from './motion-result.ts';
import { balanceResult, geometryResult, massPropertiesResult } from './shape-result.ts';
import { variationResult } from './variation-result.ts';

export const verdict = z.enum(['pass', 'warn', 'fail']);
export type Verdict = z.infer<typeof verdict>;
export const checkStatus = z.enum(['pass', 'warn', 'fail', 'not-checked']);
export const printabilityCheck = z
  .strictObject({
    id: z.string().meta({ examples: ['min-strut-diameter'] }),
    status: checkStatus,
    value: z.number().nullable(),
    limit: z.number().nullable(),
    unit: z.string(),
    message: z.string(),
    where: z
      .array(z.strictObject({ kind: z.enum(['strut', 'node', 'cell', 'layer']), index: z.int(), layer: z.int().optional() }))
      .meta({ description: 'The places concerned, the worst first, at most 50' }),
  })
  .meta({ id: 'PrintabilityCheck' });
export const printabilityResult = z.strictObject({ verdict, checks: z.array(printabilityCheck) }).meta({ id: 'PrintabilityResult' });

export const targetResult = z
  .strictObject({
    quantity: z.string(),
    target: z.number().nullable(),
    min: z.number().nullable(),
    max: z.number().nullable(),
    value: z.number().nullable().meta({ description: 'null when the result holds no such number' }),
    within: z.boolean().nullable(),
    missPct: z.number().nullable().meta({ description: "Distance outside the band over the target (or the band's middle); 0 inside" }),
  })
  .meta({ id: 'TargetResult' });

export const calibratedValue = z
  .strictObject({
    quantity: z.string().meta({ description: 'Dotted path in this result' }),
    value: z.number(),
    standardError: z.number(),
    low: z.number().meta({ description: '95 %, both sides' }),
    high: z.number(),
  })
  .meta({ id: 'CalibratedValue' });

export const warning = z.strictObject({ code: z.string(), message: z.string() }).meta({ id: 'Warning' });

/** Parts that need mechanics are null unless the depth asked for includes them, and in the result of a failed run that did not reach them. */
export const result = z
  .strictObject({
    engine: z.strictObject({ version: z.string(), inputHash: z.string() }),
    geometry: geometryResult,
    massProperties: massPropertiesResult,
    balance: balanceResult,
    material: materialResult.nullable(),
    joints: jointsResult.nullable(),
    stiffness: stiffnessResult.nullable(),
    vibration: vibrationResult.nullable(),
    rebound: reboundResult.nullable(),
    life: lifeResult.nullable(),
    motion: motionResult.nullable().meta({ description: 'null unless the tests ask for it' }),
    variation: variationResult.nullable().meta({ description: 'null unless the tests ask for it' }),
    printability: printabilityResult,
    build: buildResult,
    cost: costResult.nullable().meta({ description: 'null when not even one part fits the build volume' }),
    calibrated: z
      .array(calibratedValue)
      .optional()
      .meta({ description: 'Of a calibrated material: how far off predictions may be for what the calibration leaves open' }),
    targets: z.array(targetResult),
    warnings: z.array(warning),
  })
  .meta({ id: 'Result' });
export type Result = z.infer<typeof result>;
export type PrintabilityCheck = z.infer<typeof printabilityCheck>;
export type TargetResult = z.infer<typeof targetResult>;
