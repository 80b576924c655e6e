import { pageQuery } from '../query.ts';
import {
  exampleReevaluatedPair,
  exampleReevaluation,
  exampleReevaluationRequest,
  exampleReevaluationSummary,
  reevaluatedPair,
  reevaluation,
  reevaluationRequest,
  reevaluationSummary,
} from '../reevaluation.ts';
import type { Route } from '../route.ts';
import { byId, ok, page } from './answers.ts';

export const reevaluationRoutes = {
  createReevaluation: {
    method: 'POST',
    url: '/v1/reevaluations',
    tag: 'evaluations',
    summary: 'Compute earlier evaluations again by the present engine, and see what moved',
    description:
      'Takes finished evaluations that an older version of the engine computed, and queues the input of each again as it is stored, whole, so with the same revisions of material, build volume and reference: what moves, moves by the engine alone. They wait behind interactive evaluations and searches, like a batch; the earlier evaluations stay as they are. What the present version has computed before is not computed again.',
    body: reevaluationRequest,
    bodyExample: exampleReevaluationRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: reevaluation, headers: ['Location'] } },
    problems: ['too-slow'],
  },
  listReevaluations: {
    method: 'GET',
    url: '/v1/reevaluations',
    tag: 'evaluations',
    summary: 'The re-evaluations of the team, newest first',
    query: pageQuery,
    responses: page(reevaluationSummary, 'A page of re-evaluations, without their drift', exampleReevaluationSummary),
  },
  getReevaluation: {
    method: 'GET',
    url: '/v1/reevaluations/:id',
    tag: 'evaluations',
    summary: 'How far a re-evaluation is, and the drift so far',
    params: byId,
    responses: ok(reevaluation, 'The re-evaluation', exampleReevaluation),
    problems: ['too-slow'],
  },
  listReevaluatedPairs: {
    method: 'GET',
    url: '/v1/reevaluations/:id/pairs',
    tag: 'evaluations',
    summary: 'Each earlier evaluation beside the new one, with what changed',
    params: byId,
    query: pageQuery,
    responses: page(reevaluatedPair, 'A page of pairs, in the order in which the earlier ones were asked for', exampleReevaluatedPair),
  },
  cancelReevaluation: {
    method: 'DELETE',
    url: '/v1/reevaluations/:id',
    tag: 'evaluations',
    summary: 'Cancel a re-evaluation',
    description: 'What is finished stays; cancelling twice is the same as cancelling once.',
    params: byId,
    responses: { 200: { description: 'The re-evaluation, cancelled', schema: reevaluation } },
    problems: ['already-finished', 'too-slow'],
  },
} as const satisfies Record<string, Route>;
