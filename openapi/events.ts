import { z } from 'zod';
import { identifier } from './common.ts';
import { evaluationStatus } from './evaluation.ts';

const MOST_IDS = 100;

export const eventsQuery = z.strictObject({
  evaluationId: z
    .union([identifier, z.array(identifier).min(1).max(MOST_IDS)])
    .optional()
    .meta({
      description: `Which evaluations, at most ${MOST_IDS}; without any: all of the team that are not finished, and what is posted later`,
    }),
});

/** The data of an event `evaluation`. */
export const evaluationEvent = z.strictObject({
  id: identifier,
  status: evaluationStatus,
  stage: z.string().nullable(),
  progressPct: z.number().min(0).max(100),
});
export type EvaluationEvent = z.infer<typeof evaluationEvent>;

/** Statuses that do not change by themselves any more. */
export const isFinal = (status: EvaluationEvent['status']): boolean => status !== 'queued' && status !== 'running';
