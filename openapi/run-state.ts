import { z } from 'zod';
import { identifier, timestamp } from './common.ts';
import { evaluationStatus } from './evaluation.ts';

/** What every answer about long work that is no evaluation tells of how far it is. */
export const runState = {
  id: identifier,
  status: evaluationStatus,
  stage: z.string().nullable(),
  progressPct: z.number().min(0).max(100),
  createdAt: timestamp,
  startedAt: timestamp.nullable(),
  finishedAt: timestamp.nullable(),
};
