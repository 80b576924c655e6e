import { z } from 'zod';
import { between, identifier, timestamp } from './common.ts';
import { origin } from './design.ts';
import { evaluationRequest } from './evaluation.ts';
import { exampleParameterSet } from './examples.ts';
import { engineVersionsWarnings } from './mixed-versions.ts';
import { settingValue, variedPath } from './paths.ts';
import { fieldError } from './problems.ts';

export const MOST_POINTS = 100_000;
/** The Sobol sequence has direction numbers for as many dimensions. */
const MOST_VARIED = 21;
const MOST_VALUES = 1000;

const points = z.int().min(1).max(MOST_POINTS);
const FORMS = 'either values, or from and to (a grid also needs steps), or choices';

export const variation = z
  .strictObject({
    path: variedPath,
    values: z.array(z.number()).min(1).max(MOST_VALUES).optional(),
    from: z.number().optional(),
    to: z.number().optional(),
    steps: z.int().min(2).max(MOST_VALUES).optional().meta({ description: 'Of a grid: values from `from` to `to`, both included' }),
    choices: z.array(settingValue).min(1).max(100).optional().meta({
      description: 'Objects are merged into what stands at the path; of a material or build volume: keys, or whole records',
    }),
  })
  .superRefine((value, context) => {
    const { values, from, to, steps, choices } = value;
    const forms = [values !== undefined, from !== undefined || to !== undefined || steps !== undefined, choices !== undefined];
    if (forms.filter(Boolean).length !== 1)
      context.addIssue({ code: 'custom', path: [], input: value, message: `takes no single form; allowed: ${FORMS}` });
    else if (forms[1] && (from === undefined || to === undefined))
      context.addIssue({ code: 'custom', path: [], input: value, message: 'lacks from or to; required: both' });
    else if (from !== undefined && to !== undefined && from >= to)
      context.addIssue({ code: 'custom', path: ['from'], input: from, message: `allowed: less than to, which is ${to}` });
  })
  .meta({ id: 'Variation', description: `What is varied, and over what: ${FORMS}` });
export type Variation = z.infer<typeof variation>;

export const sampling = z
  .strictObject({
    kind: z.enum(['grid', 'sobol', 'latin-hypercube']),
    points: points.optional().meta({ description: 'Of sobol and latin-hypercube' }),
    seed: z.int().min(0).max(2_147_483_647).default(1).meta({ description: 'Of latin-hypercube' }),
  })
  .superRefine(({ kind, points: given }, context) => {
    if (kind !== 'grid' && given === undefined)
      context.addIssue({ code: 'custom', path: ['points'], input: given, message: `is missing; required: 1 to ${MOST_POINTS}` });
    if (kind === 'grid' && given !== undefined)
      context.addIssue({
        code: 'custom',
        path: ['points'],
        input: given,
        message: 'allowed: left out, as a grid has as many points as its values make',
      });
  })
  .meta({ id: 'Sampling' });
export type Sampling = z.infer<typeof sampling>;

const repeat = z
  .strictObject({
    everyHours: between(0.25, 24 * 31),
    until: timestamp,
  })
  .meta({ description: 'The same batch again, counted from the start of the one before: what has not changed is not computed again' });

export const batchRequest = z
  .strictObject({
    name: z.string().trim().max(200).default(''),
    evaluation: evaluationRequest,
    vary: z.array(variation).min(1).max(MOST_VARIED),
    sampling: sampling.default({ kind: 'grid', seed: 1 }),
    startAt: timestamp.nullish(),
    finishBy: timestamp.nullish().meta({ description: 'What is not finished by then is cancelled' }),
    repeat: repeat.nullish(),
  })
  .superRefine(({ vary, sampling: { kind }, startAt, finishBy }, context) => {
    for (const [k, { path, from, steps }] of vary.entries()) {
      if (vary.findIndex((each) => each.path === path) !== k)
        context.addIssue({ code: 'custom', path: ['vary', k, 'path'], input: path, message: 'is varied twice; allowed: each path once' });
      if (kind === 'grid' && from !== undefined && steps === undefined)
        context.addIssue({
          code: 'custom',
          path: ['vary', k, 'steps'],
          input: steps,
          message: 'is missing; required of a grid: 2 to 1000',
        });
    }
    const total = kind === 'grid' ? vary.reduce((product, each) => product * valuesOf(each), 1) : 0;
    if (total > MOST_POINTS)
      context.addIssue({ code: 'custom', path: ['vary'], input: vary, message: `make ${total} points; allowed: at most ${MOST_POINTS}` });
    if (startAt && finishBy && finishBy <= startAt)
      context.addIssue({ code: 'custom', path: ['finishBy'], input: finishBy, message: `allowed: after startAt, ${startAt}` });
  })
  .meta({ id: 'BatchRequest' });
export type BatchRequest = z.infer<typeof batchRequest>;

/** Values along one axis of a grid. */
export const valuesOf = ({ values, steps, choices }: Variation): number => values?.length ?? steps ?? choices?.length ?? 1;

export const batchChange = z
  .strictObject({
    status: z.enum(['running', 'paused']).optional().meta({ description: 'paused: nothing further is begun; running: it goes on' }),
    points: points.optional().meta({ description: 'More points than so far, of sobol and latin-hypercube' }),
  })
  .refine(({ status, points: more }) => status !== undefined || more !== undefined, 'changes nothing; required: status or points')
  .meta({ id: 'BatchChange' });
export type BatchChange = z.infer<typeof batchChange>;

const count = z.int().min(0);
export const batch = z
  .strictObject({
    id: identifier,
    name: z.string(),
    status: z.enum(['queued', 'running', 'paused', 'done', 'cancelled']).meta({ description: 'queued: startAt is still to come' }),
    counts: z.strictObject({ total: count, queued: count, running: count, done: count, failed: count, cancelled: count }).meta({
      description: 'Of its points. failed: also those whose parameters are refused',
    }),
    secondsLeft: z.number().nullable().meta({ description: 'By the pace of the last points; null before there is one, and at the end' }),
    origin: origin.nullable(),
    vary: z.array(variation),
    sampling,
    startAt: timestamp.nullable(),
    finishBy: timestamp.nullable(),
    repeat: repeat.nullable(),
    createdAt: timestamp,
    startedAt: timestamp.nullable(),
    finishedAt: timestamp.nullable(),
    refusals: z
      .array(z.strictObject({ index: count, errors: z.array(fieldError) }))
      .meta({ description: 'Points whose parameters are refused, the first ten' }),
    warnings: engineVersionsWarnings,
  })
  .meta({ id: 'Batch', description: 'Evaluations of many points; its members: GET /v1/evaluations?batchId=' });
export type Batch = z.infer<typeof batch>;

export const exampleBatchRequest: z.input<typeof batchRequest> = {
  name: 'Outer struts against posts',
  evaluation: { parameterSet: exampleParameterSet, material: 'tpu-soft', buildVolume: 'medium-polymer', reference: 'handball-size-1' },
  vary: [
    { path: 'layers.0.strutDiameterMm', from: 3, to: 5 },
    { path: 'links.strutDiameterMm', from: 2, to: 4.5 },
    {
      path: 'tiling',
      choices: [
        { m: 3, n: 3 },
        { m: 4, n: 2 },
      ],
    },
  ],
  sampling: { kind: 'sobol', points: 512 },
  finishBy: '2027-02-01T06:00:00Z',
};
export const exampleBatch: Batch = {
  id: '01948f3a-7c00-7d10-8a00-000000000501',
  name: 'Outer struts against posts',
  status: 'running',
  counts: { total: 512, queued: 380, running: 2, done: 129, failed: 1, cancelled: 0 },
  secondsLeft: 190.5,
  origin: null,
  vary: exampleBatchRequest.vary as Variation[],
  sampling: { kind: 'sobol', points: 512, seed: 1 },
  startAt: null,
  finishBy: '2027-02-01T06:00:00Z',
  repeat: null,
  createdAt: '2027-01-31T20:00:00Z',
  startedAt: '2027-01-31T20:00:00.310Z',
  finishedAt: null,
  refusals: [
    {
      index: 77,
      errors: [{ pointer: '/parameterSet/links', value: 4.5, detail: 'is 4.5; allowed: less than 4.49' }],
    },
  ],
  warnings: [],
};
