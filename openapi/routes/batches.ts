import { batch, batchChange, batchRequest, exampleBatch, exampleBatchRequest } from '../batch.ts';
import { pageQuery } from '../query.ts';
import type { Route } from '../route.ts';
import { byId, ok, page } from './answers.ts';

export const batchRoutes = {
  createBatch: {
    method: 'POST',
    url: '/v1/batches',
    tag: 'batches',
    summary: 'Evaluate many points: a grid, or samples over any parameters',
    description:
      'Answers at once; points are queued as workers get to them, behind interactive evaluations and searches. The same point under the same engine version is computed once.',
    body: batchRequest,
    bodyExample: exampleBatchRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: batch, headers: ['Location'] } },
  },
  listBatches: {
    method: 'GET',
    url: '/v1/batches',
    tag: 'batches',
    summary: 'The batches of the team, newest first',
    query: pageQuery,
    responses: page(batch, 'A page of batches', exampleBatch),
  },
  getBatch: {
    method: 'GET',
    url: '/v1/batches/:id',
    tag: 'batches',
    summary: 'How far a batch is, and how long it will take',
    params: byId,
    responses: ok(batch, 'The batch', exampleBatch),
  },
  changeBatch: {
    method: 'PATCH',
    url: '/v1/batches/:id',
    tag: 'batches',
    summary: 'Pause a batch, let it go on, or extend it',
    params: byId,
    body: batchChange,
    bodyExample: { status: 'paused' },
    responses: { 200: { description: 'The batch, changed', schema: batch } },
    problems: ['already-finished'],
  },
  cancelBatch: {
    method: 'DELETE',
    url: '/v1/batches/:id',
    tag: 'batches',
    summary: 'Cancel a batch',
    description: 'What is finished stays in the history; cancelling twice is the same as cancelling once.',
    params: byId,
    responses: { 200: { description: 'The batch, cancelled', schema: batch } },
    problems: ['already-finished'],
  },
} as const satisfies Record<string, Route>;
