import { z } from 'zod';
import { buildOptions, settledBuildOptions } from './build-options.ts';
import { inlineBuildVolume } from './build-volume.ts';
import { identifier, recordKey, timestamp } from './common.ts';
import { inlineMaterial } from './material.ts';
import { parameterSet, settledParameterSet } from './parameter-set.ts';
import { QUANTITIES, type Quantity } from './quantities.ts';
import { inlineReference } from './reference.ts';
import { result, verdict } from './result.ts';
import { tests } from './tests.ts';

const conditions = {
  material: z.union([recordKey, inlineMaterial]).meta({ description: 'The key of a material, or a whole record' }),
  buildVolume: z.union([recordKey, inlineBuildVolume]).meta({ description: 'The key of a build volume, or a whole record' }),
  reference: z.union([recordKey, inlineReference]).nullish().meta({ description: 'The key of a reference, or a whole record' }),
  tests: tests.default({ depth: 'geometry' }),
  build: buildOptions.optional(),
};

/** Input of the offline command, and of the service when no version is named. */
export const evaluationInput = z.strictObject({ parameterSet, ...conditions }).meta({ id: 'EvaluationInput' });
export type EvaluationInput = z.infer<typeof evaluationInput>;

export const evaluationRequest = z
  .strictObject({ parameterSet: parameterSet.optional(), versionId: identifier.optional(), ...conditions })
  .superRefine((value, context) => {
    const { parameterSet: set, versionId } = value;
    if (set === undefined && versionId === undefined)
      context.addIssue({ code: 'custom', path: ['parameterSet'], message: 'required: this or versionId' });
    if (set !== undefined && versionId !== undefined)
      context.addIssue({ code: 'custom', path: ['versionId'], message: 'allowed: this or parameterSet, not both' });
  })
  .meta({ id: 'EvaluationRequest' });
export type EvaluationRequest = z.infer<typeof evaluationRequest>;

/** What is hashed, stored and handed to the engine: every key replaced by the record it named, with the revision used. */
export const resolvedInput = z
  .strictObject({
    parameterSet: settledParameterSet,
    material: inlineMaterial,
    buildVolume: inlineBuildVolume,
    reference: inlineReference.nullable(),
    tests,
    build: settledBuildOptions.optional(),
  })
  .meta({ id: 'ResolvedInput' });
export type ResolvedInput = z.infer<typeof resolvedInput>;

export const evaluationStatus = z.enum(['queued', 'running', 'done', 'failed', 'cancelled']);
export type EvaluationStatus = z.infer<typeof evaluationStatus>;

export const runError = z
  .strictObject({ code: z.string(), message: z.string(), details: z.record(z.string(), z.unknown()).optional() })
  .meta({ id: 'RunError' });

export const evaluation = z
  .strictObject({
    id: identifier,
    status: evaluationStatus,
    stage: z.string().nullable(),
    progressPct: z.number().min(0).max(100),
    designId: identifier.nullable(),
    versionId: identifier.nullable(),
    version: z.int().nullable().meta({ description: 'Number of the version within its design' }),
    createdAt: timestamp,
    startedAt: timestamp.nullable(),
    finishedAt: timestamp.nullable(),
    input: resolvedInput,
    result: result.nullable().meta({
      description:
        'Whole when status is done, until it is thinned. Of a failed run: the numbers so far, beside error, if there are any; parts not reached are null, and no filter of the history finds them',
    }),
    error: runError.nullable(),
    thinnedAt: timestamp.nullable().meta({
      description:
        'When the rules of the team let the whole result go: its numbers stay in the history, and posting the same again computes it again',
    }),
  })
  .meta({ id: 'Evaluation' });
export type Evaluation = z.infer<typeof evaluation>;

const quantity = z.number().nullable();
/** One line of the history: the status and the filterable numbers; the whole result is one GET away. */
export const evaluationSummary = z
  .strictObject({
    id: identifier,
    status: evaluationStatus,
    stage: z.string().nullable(),
    progressPct: z.number().min(0).max(100),
    verdict: verdict.nullable(),
    designId: identifier.nullable(),
    versionId: identifier.nullable(),
    version: z.int().nullable(),
    material: z.string().nullable().meta({ description: 'Key of its material; null where that was posted whole, without one' }),
    engineVersion: z.string().meta({ description: 'What it is computed with' }),
    createdAt: timestamp,
    finishedAt: timestamp.nullable(),
    quantities: z.strictObject(Object.fromEntries(QUANTITIES.map((name) => [name, quantity])) as Record<Quantity, typeof quantity>),
  })
  .meta({ id: 'EvaluationSummary' });
export type EvaluationSummary = z.infer<typeof evaluationSummary>;

export const file = z
  .strictObject({
    name: z.string().meta({ examples: ['graph.json'] }),
    mediaType: z.string(),
    size: z.int().meta({ description: 'Bytes, unpacked' }),
    sha256: z.string(),
    createdAt: timestamp,
  })
  .meta({ id: 'File', description: 'A file made by an evaluation' });
export type FileRecord = z.infer<typeof file>;
