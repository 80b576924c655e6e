import { z } from 'zod';
import { between, identifier, recordKey } from './common.ts';
import { runError } from './evaluation.ts';
import { inlineMaterial } from './material.ts';
import { settledParameterSet } from './parameter-set.ts';
import { ofPrints } from './print.ts';
import { warning } from './result.ts';
import { runState } from './run-state.ts';
import { target } from './target.ts';

/** What a calibration reads of what is measured: each follows the unknowns, and is told once by its test. */
export const CALIBRATED = ['massG', 'outsideDiameterMm', 'circumferenceMm', 'stiffnessNPerMm', 'restitution'] as const;
export type CalibratedQuantity = (typeof CALIBRATED)[number];

export const UNKNOWN_NAMES = [
  'growthInLayerMm',
  'growthUprightMm',
  'densityFactor',
  'modulusFactor',
  'lossFactorFactor',
  'jointFactor',
] as const;
const unknownName = z.enum(UNKNOWN_NAMES);

const MOST_CANDIDATES = 8;
const sd = between(0.001, 50);
const noise = z.strictObject({
  scatterPct: sd.meta({ description: 'One standard deviation of a part about what its version predicts' }),
  biasPct: between(0, 50).meta({ description: 'One standard deviation of what an instrument may be off for all it reads' }),
});

const { materialRevision: _, ...prints } = ofPrints;
export const calibrationRequest = z
  .strictObject({
    ...prints,
    material: recordKey.meta({ description: 'Prints of this material; the record is what the calibration starts from' }),
    finishing: z
      .string()
      .max(100)
      .optional()
      .meta({ description: 'Only prints finished so: the kinds of their steps joined by +, or none', examples: ['cleaning+dyeing'] }),
    noise: z.partialRecord(z.enum(CALIBRATED), noise).default({}).meta({ description: 'What is left out has its usual value' }),
    candidates: z
      .array(identifier)
      .max(MOST_CANDIDATES)
      .default([])
      .meta({ description: 'Versions that could be printed next; they are predicted and compared' }),
    targets: z.array(target).max(20).default([]).meta({ description: 'What the next print is to meet' }),
  })
  .meta({ id: 'CalibrationRequest', description: 'Which measurements to learn from: of one material, build volume and finishing' });
export type CalibrationRequest = z.infer<typeof calibrationRequest>;

/** What is hashed, stored and handed to the engine. */
export const calibrationInput = z
  .strictObject({
    material: inlineMaterial,
    conditions: z.strictObject({ secantAtPct: z.number().nullable(), dropHeightMm: z.number().nullable() }),
    versions: z.array(z.strictObject({ versionId: identifier, number: z.int(), parameterSet: settledParameterSet })),
    observations: z.array(
      z.strictObject({
        measurementId: identifier,
        version: z.int().meta({ description: 'Place in the list of versions' }),
        quantity: z.enum(CALIBRATED),
        value: z.number().meta({ description: 'Mean of the repeats on one print' }),
        scatterPct: z.number(),
        biasPct: z.number(),
        instrument: z.string(),
      }),
    ),
    noise: z.record(z.string(), noise),
    candidates: z.array(z.int()).meta({ description: 'Places in the list of versions' }),
    targets: z.array(target),
    leftOut: z.array(z.strictObject({ measurementId: identifier, reason: z.string() })),
    usedBefore: z.int().optional().meta({
      description: 'Of the observations, those that the record itself was calibrated from: they count twice, and a warning says so',
    }),
  })
  .meta({ id: 'CalibrationInput' });
export type CalibrationInput = z.infer<typeof calibrationInput>;

const interval = { standardError: z.number(), low: z.number().meta({ description: '95 %, both sides' }), high: z.number() };
const judged = z
  .strictObject({
    versionId: identifier,
    version: z.int(),
    meetsAll: z.number().meta({ description: 'Chance that a mean part meets all targets' }),
    aims: z.array(z.strictObject({ quantity: z.string(), chance: z.number(), predicted: z.number(), distance: z.number() })),
    distance: z.number().meta({ description: 'From the middle of all bands, in half widths' }),
    bits: z.number().meta({ description: 'What one measured print of it would tell of the unknowns' }),
  })
  .meta({ id: 'JudgedCandidate' });

export const calibrationResult = z
  .strictObject({
    engine: z.strictObject({ version: z.string(), inputHash: z.string() }),
    estimates: z.array(
      z.strictObject({
        unknown: unknownName,
        value: z.number(),
        ...interval,
        believed: z.strictObject({ value: z.number(), deviation: z.number() }).meta({
          description: 'Before anything was measured; the deviation of a factor is of its logarithm',
        }),
        told: z.enum(['told', 'partly', 'not-told']),
        remainingShare: z.number().meta({ description: 'Deviation after over deviation before' }),
      }),
    ),
    identifiability: z.strictObject({
      notTold: z.array(z.strictObject({ remainingShare: z.number(), parts: z.partialRecord(unknownName, z.number()) })),
      together: z.array(z.strictObject({ unknowns: z.tuple([unknownName, unknownName]), correlation: z.number() })),
      sentences: z.array(z.string()),
    }),
    biases: z.array(
      z.strictObject({
        instrument: z.string(),
        quantity: z.string(),
        priorPct: z.number(),
        valuePct: z.number(),
        deviationPct: z.number(),
      }),
    ),
    residuals: z.strictObject({
      chiSquare: z.number(),
      freedom: z.number(),
      runs: z.strictObject({ count: z.int(), expected: z.number(), z: z.number() }).nullable(),
      normality: z.strictObject({ a2: z.number(), probability: z.number() }).nullable(),
      sentences: z.array(z.string()),
      items: z.array(
        z.strictObject({
          measurementId: identifier,
          quantity: z.string(),
          measured: z.number(),
          predicted: z.number(),
          asDesigned: z.number().meta({ description: 'What was predicted before the calibration' }),
          standardised: z.number(),
          weight: z.number().meta({ description: 'Below 1: an outlier, kept and weighed down' }),
          leverage: z.number(),
        }),
      ),
    }),
    widening: z.number().meta({ description: 'Factor on all deviations, as measurements scatter more than was said' }),
    material: z.strictObject(inlineMaterial.shape).meta({ description: 'The record with what was learnt; store it to evaluate with it' }),
    predictions: z.array(z.strictObject({ versionId: identifier, version: z.int(), quantity: z.string(), value: z.number(), ...interval })),
    nextPrint: z
      .strictObject({
        advised: identifier.nullable(),
        why: z.enum(['closest', 'informative']).nullable(),
        reasons: z.array(z.string()),
        candidates: z.array(judged),
      })
      .nullable()
      .meta({ description: 'null without candidates or targets' }),
    warnings: z.array(warning),
  })
  .meta({ id: 'CalibrationResult' });
export type CalibrationResult = z.infer<typeof calibrationResult>;

export const calibration = z
  .strictObject({
    ...runState,
    input: calibrationInput,
    result: calibrationResult.nullable().meta({ description: 'null unless status is done' }),
    error: runError.nullable(),
  })
  .meta({ id: 'Calibration', description: 'What prints and their measurements tell of a material in a build volume' });
export type Calibration = z.infer<typeof calibration>;

export const calibrationSummary = z
  .strictObject({ ...runState, material: z.string(), observations: z.int() })
  .meta({ id: 'CalibrationSummary' });
export type CalibrationSummary = z.infer<typeof calibrationSummary>;

export const adoption = z
  .strictObject({ key: recordKey.meta({ description: "Key of one of the team's own materials, or a new one" }) })
  .meta({ id: 'CalibrationAdoption' });
