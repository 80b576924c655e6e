import { z } from 'zod';
import { identifier, timestamp } from './common.ts';
import { origin } from './design.ts';
import { evaluationRequest } from './evaluation.ts';
import { exampleParameterSet } from './examples.ts';
import { engineVersionsWarnings } from './mixed-versions.ts';
import { parameterSet } from './parameter-set.ts';
import { setting, settingValue, variedPath } from './paths.ts';
import { inlineReference } from './reference.ts';
import { targetResult } from './result.ts';
import { type Target, target } from './target.ts';
import { tests } from './tests.ts';

/** Numbers between bounds: with more, the first slopes alone would take most of a budget. */
const MOST_NUMBERS = 12;
const MOST_WAYS = 64;
const MOST_EVALUATIONS = 500;

const freeNumberOrChoice = z
  .strictObject({
    path: variedPath,
    min: z.number().optional(),
    max: z.number().optional(),
    step: z.number().positive().optional().meta({ description: 'Only whole steps from min are tried. Default: any number' }),
    start: z.number().optional().meta({ description: 'Default: what the parameter set has there, or the nearest bound' }),
    choices: z.array(settingValue).min(1).max(32).optional().meta({
      description: 'Objects are merged into what stands at the path; of a material or build volume: keys, or whole records',
    }),
  })
  .superRefine(({ min, max, step, start, choices }, context) => {
    const issue = (path: string[], input: unknown, message: string) => context.addIssue({ code: 'custom', path, input, message });
    const numeric = [min, max, step, start].some((each) => each !== undefined);
    if (choices !== undefined && numeric) issue([], undefined, 'takes both forms; allowed: min and max, or choices');
    else if (choices === undefined && (min === undefined || max === undefined))
      issue([], undefined, 'takes no form; required: min and max, or choices');
    if (min === undefined || max === undefined) return;
    if (min >= max) issue(['min'], min, `allowed: less than max, which is ${max}`);
    else if (step !== undefined && step > max - min) issue(['step'], step, `allowed: at most ${max - min}, the distance of min and max`);
    if (start !== undefined && (start < min || start > max)) issue(['start'], start, `allowed: at least ${min}, at most ${max}`);
  })
  .meta({ id: 'FreeParameter', description: 'What may change: a number between min and max, or one of several choices' });
export type FreeParameter = z.infer<typeof freeNumberOrChoice>;

const RANKS = ['least-first', 'most-first'] as const;
const STOPS = ['targets-met', 'objective-settled'] as const;

const constraints = z
  .strictObject({
    printable: z.boolean().default(true).meta({ description: 'What fails a printability check is no solution' }),
    limits: z
      .array(target)
      .max(10)
      .default([])
      .meta({ description: 'Hard limits beside the targets, such as the most that a part may cost' }),
  })
  .meta({ id: 'SearchConstraints' });
export type SearchConstraints = z.infer<typeof constraints>;

const conditions = evaluationRequest.shape;
export const searchRequest = z
  .strictObject({
    ...{ name: z.string().trim().max(200).default(''), parameterSet: conditions.parameterSet, versionId: conditions.versionId },
    ...{ material: conditions.material, buildVolume: conditions.buildVolume, reference: conditions.reference.unwrap().unwrap() },
    free: z.array(freeNumberOrChoice).min(1).max(20),
    constraints: constraints.default({ printable: true, limits: [] }),
    objective: target.shape.quantity.default('totalPerPart').meta({
      description: 'Solutions are ranked by it: a short name or the dotted path of a number in a result',
    }),
    rank: z
      .enum(RANKS)
      .default('least-first')
      .meta({ description: 'Which solution is the best: the one with the least objective, or with the most' }),
    until: z.enum(STOPS).default('targets-met').meta({
      description:
        'targets-met: ends with the first solution of each combination of choices; objective-settled: goes on from there to better ones, until no step promises a thousandth more or the budget is spent',
    }),
    tests: tests.optional().meta({ description: 'Default: as deep as targets, limits and objective need' }),
    budget: z.strictObject({ evaluations: z.int().min(1).max(MOST_EVALUATIONS) }).default({ evaluations: 40 }),
  })
  .superRefine(({ parameterSet: set, versionId, free, budget }, context) => {
    const issue = (path: (string | number)[], input: unknown, message: string) =>
      context.addIssue({ code: 'custom', path, input, message });
    if (set === undefined && versionId === undefined) issue(['parameterSet'], undefined, 'required: this or versionId');
    if (set !== undefined && versionId !== undefined) issue(['versionId'], versionId, 'allowed: this or parameterSet, not both');
    for (const [k, { path }] of free.entries())
      if (free.findIndex((each) => each.path === path) !== k) issue(['free', k, 'path'], path, 'is free twice; allowed: each path once');
    const numbers = free.filter(({ choices }) => choices === undefined).length;
    if (numbers > MOST_NUMBERS) issue(['free'], free, `has ${numbers} numbers; allowed: at most ${MOST_NUMBERS}`);
    const ways = free.reduce((product, { choices }) => product * (choices?.length ?? 1), 1);
    const most = Math.min(MOST_WAYS, budget.evaluations);
    if (ways > most)
      issue(['free'], free, `makes ${ways} combinations of choices; allowed: at most ${most}, as each is evaluated at least once`);
  })
  .meta({ id: 'SearchRequest' });
export type SearchRequest = z.infer<typeof searchRequest>;

const missPct = z.number().nullable().meta({ description: 'Of the target or limit missed most; 0: all are met; null: some have no value' });
const rankingRow = z
  .strictObject({
    evaluationId: identifier,
    settings: z.array(setting).meta({ description: 'The free parameters; records by their keys' }),
    meetsAll: z.boolean().meta({ description: 'Every target and limit, and printable where that is asked for' }),
    printable: z.boolean(),
    missPct,
    values: z.record(z.string(), z.number().nullable()).meta({ description: 'Of the targets, the limits and the objective' }),
  })
  .meta({ id: 'SearchRankingRow' });
export type SearchRankingRow = z.infer<typeof rankingRow>;

const sensitivity = z
  .strictObject({
    quantity: z.string(),
    path: variedPath,
    perUnit: z.number().meta({ description: 'Change of the quantity for a change of the parameter by 1, in their own units' }),
    pctPerPct: z.number().meta({ description: 'Change in per cent for a change of the parameter by one per cent' }),
  })
  .meta({ id: 'Sensitivity' });

const conflict = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('out-of-reach'),
      quantity: z.string(),
      nearest: z.number().meta({ description: 'The nearest that it comes to within the bounds' }),
      atBounds: z.array(variedPath).meta({ description: 'Parameters that are then at a bound' }),
    }),
    z.strictObject({
      kind: z.literal('conflict'),
      quantities: z.tuple([z.string(), z.string()]),
      firstWhereSecondIsMet: z.number(),
      secondWhereFirstIsMet: z.number(),
    }),
  ])
  .meta({ id: 'SearchConflict', description: 'What forbids the targets, by the slopes at the nearest set' });

/** What a worker finds out, as it is stored and shown. */
export const searchFindings = z.strictObject({
  best: z
    .strictObject({
      parameterSet,
      settings: z.array(setting),
      evaluationId: identifier,
      meetsAll: z.boolean(),
      targets: z.array(targetResult),
    })
    .nullable(),
  ranking: z.array(rankingRow).meta({ description: 'Solutions first, by the objective; then the others, the nearest first; at most 50' }),
  sensitivities: z.array(sensitivity).meta({ description: 'At the best set, once the search has ended: what to change next' }),
  conflict: conflict.nullable(),
  endedBy: z.enum(['met', 'converged', 'budget', 'cancelled']).nullable().meta({
    description: 'converged: nothing tried comes nearer; budget: no evaluations are left',
  }),
  verdict: z.string().meta({ description: 'In plain words' }),
});
export type SearchFindings = z.infer<typeof searchFindings>;

const count = z.int().min(0);
export const search = z
  .strictObject({
    id: identifier,
    name: z.string(),
    status: z.enum(['queued', 'running', 'done', 'cancelled']),
    progress: z.strictObject({
      evaluations: count.meta({ description: 'Parameter sets tried so far' }),
      running: count,
      failed: count.meta({ description: 'Of those tried: refused, or not evaluated to their end' }),
      budget: count,
      bestMissPct: missPct,
    }),
    ...searchFindings.shape,
    origin: origin.nullable(),
    reference: inlineReference,
    free: z.array(freeNumberOrChoice),
    constraints,
    objective: z.string(),
    rank: z.enum(RANKS),
    until: z.enum(STOPS),
    tests,
    warnings: engineVersionsWarnings,
    createdAt: timestamp,
    startedAt: timestamp.nullable(),
    finishedAt: timestamp.nullable(),
  })
  .meta({ id: 'Search', description: 'Its evaluations: GET /v1/evaluations?searchId=' });
export type Search = z.infer<typeof search>;

const massG: Target = { quantity: 'massG', min: 307, target: 310, max: 313 };
export const exampleSearchRequest: z.input<typeof searchRequest> = {
  name: 'From a first guess to 310 g',
  ...{ parameterSet: exampleParameterSet, material: 'tpu-soft', buildVolume: 'medium-polymer' },
  reference: { targets: [massG] },
  free: [
    { path: 'layers.0.strutDiameterMm', min: 2, max: 6 },
    {
      path: 'tiling',
      choices: [
        { m: 3, n: 0 },
        { m: 2, n: 2 },
      ],
    },
  ],
  constraints: { limits: [{ quantity: 'totalPerPart', max: 60 }] },
  ...{ tests: { depth: 'static' }, objective: 'totalPerPart', budget: { evaluations: 40 } },
};
export const exampleSearch: Search = {
  ...{ id: '01948f3a-7c00-7d10-8a00-000000000601', name: 'From a first guess to 310 g', status: 'done' },
  progress: { evaluations: 11, running: 0, failed: 1, budget: 40, bestMissPct: 0 },
  best: {
    parameterSet: exampleParameterSet,
    settings: [
      { path: 'layers.0.strutDiameterMm', value: 4.2 },
      { path: 'tiling', value: { m: 3, n: 0 } },
    ],
    evaluationId: '019abc10-0000-7000-8000-000000000003',
    meetsAll: true,
    targets: [{ ...massG, min: 307, target: 310, max: 313, value: 309.8, within: true, missPct: 0 }],
  },
  ranking: [
    {
      evaluationId: '019abc10-0000-7000-8000-000000000003',
      settings: [
        { path: 'layers.0.strutDiameterMm', value: 4.2 },
        { path: 'tiling', value: { m: 3, n: 0 } },
      ],
      ...{ meetsAll: true, printable: true, missPct: 0, values: { massG: 309.8, totalPerPart: 52.1 } },
    },
  ],
  sensitivities: [{ quantity: 'massG', path: 'layers.0.strutDiameterMm', perUnit: 68.2, pctPerPct: 0.92 }],
  ...{ conflict: null, endedBy: 'met' },
  verdict: 'Every target is met; 11 parameter sets were evaluated. The best by totalPerPart comes to 52.1.',
  origin: null,
  reference: { targets: [massG], source: '', edition: '', status: '', inflation: null, dropHeightMm: null, peakForceN: null },
  free: exampleSearchRequest.free as FreeParameter[],
  constraints: { printable: true, limits: [{ quantity: 'totalPerPart', max: 60 }] },
  ...{ objective: 'totalPerPart', rank: 'least-first', until: 'targets-met', tests: { depth: 'static' }, warnings: [] },
  createdAt: '2027-01-31T20:00:00Z',
  startedAt: '2027-01-31T20:00:00.310Z',
  finishedAt: '2027-01-31T20:01:10.120Z',
};
