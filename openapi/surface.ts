import { z } from 'zod';
import { identifier } from './common.ts';
import { runError } from './evaluation.ts';
import { historyFiltersAlone } from './history.ts';
import { withLeaves } from './leaf-filters.ts';
import { engineVersionsWarnings } from './mixed-versions.ts';
import { setting, settingValue, variedPath } from './paths.ts';
import { QUANTITIES } from './quantities.ts';
import { runState } from './run-state.ts';
import { share } from './variation-result.ts';

const MOST_QUANTITIES = 8;
const MOST_PREDICTIONS = 100;
/** What a batch and a search vary at most. */
export const MOST_FACTORS = 21;

const quantity = z.enum(QUANTITIES);
const source = {
  batchId: identifier.optional(),
  searchId: identifier.optional().meta({ description: 'Of a search: over its evaluations, which lie close where it went' }),
};

export const surfaceRequest = z
  .strictObject({
    ...source,
    quantities: z.array(quantity).min(1).max(MOST_QUANTITIES),
  })
  .superRefine(({ batchId, searchId, quantities }, context) => {
    const issue = (path: (string | number)[], input: unknown, message: string) =>
      context.addIssue({ code: 'custom', path, input, message });
    if (batchId === undefined && searchId === undefined) issue(['batchId'], undefined, 'required: this or searchId');
    if (batchId !== undefined && searchId !== undefined) issue(['searchId'], searchId, 'allowed: this or batchId, not both');
    for (const [k, each] of quantities.entries())
      if (quantities.indexOf(each) !== k) issue(['quantities', k], each, 'is named twice; allowed: each once');
  })
  .meta({ id: 'SurfaceRequest' });
export type SurfaceRequest = z.infer<typeof surfaceRequest>;

/** What is varied: a number, or choices, of which rows hold the place. */
const factor = z.strictObject({
  path: variedPath,
  choices: z.array(settingValue).nullable().meta({ description: 'null: a number' }),
  min: z.number().nullable().meta({ description: 'Of the points; null: choices' }),
  max: z.number().nullable(),
});
const count = z.int().min(0);
const finished = count.meta({ description: 'Members that had every quantity when the surface was asked for' });
const points = count.meta({ description: 'Of those, how many it knows' });

/** What is hashed, stored and handed to the engine: drawn from the finished members when it was asked for. */
export const surfaceInput = z.strictObject({
  ...source,
  ...{ finished, points },
  factors: z.array(factor),
  quantities: z.array(quantity),
  rows: z.array(z.array(z.number())).meta({ description: 'Of each point its factors' }),
  values: z.array(z.array(z.number())).meta({ description: 'Of each quantity its values at the points' }),
  engineVersions: z
    .record(z.string(), count)
    .optional()
    .meta({ description: 'Points by the version of the engine, where it is not one alone' }),
});
export type SurfaceInput = z.infer<typeof surfaceInput>;

const kind = z.enum(['gaussian-process', 'quadratic']);
const form = z.enum(['value', 'logarithm']).meta({ description: 'What it is a model of: the quantity, or its logarithm' });
const hyperparameters = z.strictObject({
  kernel: z.enum(['squared-exponential', 'matern-5/2']),
  lengths: z.array(z.number()).meta({ description: 'Over how much of each range the quantity follows itself; long: nearly straight' }),
  noise: z.number().meta({ description: 'Share of the variance that follows nothing' }),
});
const rmse = z.number().meta({ description: 'Root mean square error, in the unit of the quantity' });

export const surfaceResult = z
  .strictObject({
    engine: z.strictObject({ version: z.string(), inputHash: z.string() }),
    quantities: z.array(
      z.strictObject({
        quantity,
        model: z.union([
          z.strictObject({ kind: z.literal('quadratic'), form }),
          z.strictObject({ kind: z.literal('gaussian-process'), form, hyperparameters }),
        ]),
        fitted: count.meta({ description: 'Points it was fitted to, drawn from all; the others were kept to check it' }),
        candidates: z.array(z.strictObject({ kind, form, rmse })).meta({ description: 'The one with the least error was taken' }),
        rmse: rmse.meta({ description: 'Of ten fits, each at the tenth of the points that it had not seen; in the unit of the quantity' }),
        explained: z.number().meta({ description: 'Part of the variance that those fits foretold; 1: all, 0: no better than the mean' }),
        intervalFactor: z.number().meta({
          description: 'Deviations to either side of the mean that make the interval; 1.96 where the model states its error rightly',
        }),
        covered: share.meta({ description: 'Points not seen that lay in intervals made without them; 0.95 is claimed' }),
        kept: z
          .strictObject({ rmse, covered: share })
          .nullable()
          .meta({ description: 'The same of the points kept to check; null: there were none' }),
      }),
    ),
  })
  .meta({ id: 'SurfaceResult' });
export type SurfaceResult = z.infer<typeof surfaceResult>;

const state = {
  ...runState,
  batchId: identifier.nullable(),
  searchId: identifier.nullable(),
  ...{ finished, points },
};
export const surface = z
  .strictObject({
    ...state,
    factors: z.array(factor),
    quantities: z.array(quantity),
    result: surfaceResult.nullable().meta({ description: 'null unless status is done' }),
    error: runError.nullable(),
    warnings: engineVersionsWarnings,
  })
  .meta({ id: 'Surface', description: 'Quantities as functions of what a batch or a search varied, with how far they may be off' });
export type Surface = z.infer<typeof surface>;
export const surfaceSummary = z.strictObject({ ...state, quantities: z.array(quantity) }).meta({ id: 'SurfaceSummary' });

export const surfaceQuestion = z
  .strictObject({
    points: z
      .array(z.array(setting).min(1).max(MOST_FACTORS))
      .min(1)
      .max(MOST_PREDICTIONS)
      .meta({ description: 'Each a value for every path of the surface' }),
  })
  .meta({ id: 'SurfaceQuestion' });
export type SurfaceQuestion = z.infer<typeof surfaceQuestion>;

export const surfacePredictions = z
  .strictObject({
    items: z.array(
      z.strictObject({
        quantities: z.partialRecord(
          quantity,
          z.strictObject({
            value: z.number(),
            low: z.number().meta({ description: 'The interval holds 95 of 100 evaluations of points like those of the batch' }),
            high: z.number(),
          }),
        ),
        extrapolates: z.boolean().meta({ description: 'The point lies outside what the surface knows: the intervals claim nothing there' }),
      }),
    ),
  })
  .meta({ id: 'SurfacePredictions', description: 'One item for each point, in their order' });

const level = z.strictObject({
  from: z.number().nullable().meta({ description: 'Least and greatest number; null: a choice' }),
  to: z.number().nullable(),
  choice: settingValue.nullable(),
  count,
  mean: z.number(),
  deviation: z.number().nullable().meta({ description: 'One standard deviation of the evaluations; null of a single one' }),
  effect: z.number().meta({ description: 'Above the mean of all, what the other parameters do by themselves taken off' }),
});
export const effects = z
  .strictObject({
    quantity,
    finished: count.meta({ description: 'Members that have the quantity' }),
    points: count.meta({ description: 'Of those, how many were looked at, drawn from all' }),
    mean: z.number().nullable(),
    deviation: z.number().nullable(),
    parameters: z.array(
      z.strictObject({
        path: variedPath,
        share: z
          .number()
          .nullable()
          .meta({ description: 'Part of the variance that the parameter by itself explains; null: cannot be told' }),
        levels: z.array(level).meta({ description: 'By its values, or by intervals with as many evaluations in each' }),
      }),
    ),
    rest: z.number().nullable().meta({ description: 'What no parameter explains by itself: how they act together, and chance' }),
    warnings: engineVersionsWarnings,
  })
  .meta({ id: 'Effects', description: 'How a quantity follows each parameter: an analysis of variance by main effects' });
export type Effects = z.infer<typeof effects>;
export const effectsQuery = z.strictObject({ quantity });

const paths = z.union([variedPath, z.array(variedPath).max(MOST_FACTORS)]).optional();
/** The filters of the history, the quantity, and perhaps which parameters: `tag=for-print&quantity=massG&path=layers.0.strutDiameterMm`. */
export const selectionEffectsQuery = withLeaves(
  historyFiltersAlone.extend({
    quantity,
    path: paths.meta({
      description: 'A parameter to look at; given again for more of them. Left out: all that every evaluation has and not all have alike',
    }),
  }),
);
export type SelectionEffectsQuery = z.infer<typeof selectionEffectsQuery>;
export const selectionEffects = effects
  .extend({ complete: z.boolean().meta({ description: 'false: there are more than the 50 000 that are looked at; narrow the filters' }) })
  .meta({
    id: 'SelectionEffects',
    description:
      'How a quantity follows what differs between evaluations, by main effects: parameters that were always changed together share what they explain',
  });
