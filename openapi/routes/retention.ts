import { exampleRetention, retention, retentionQuery, retentionRules } from '../retention.ts';
import type { Route } from '../route.ts';
import { ok } from './answers.ts';

const KEPT =
  'Versions, prints, measurements and acceptances are never touched, nor any evaluation that somebody asked for by itself, that belongs to a version, that a re-evaluation made, or that a search names as its best or in its ranking; nor members of batches and searches that have not ended.';

export const retentionRoutes = {
  getRetention: {
    method: 'GET',
    url: '/v1/retention',
    tag: 'records',
    summary: 'What the team lets go, and how much that would free now',
    description: KEPT,
    query: retentionQuery,
    responses: ok(retention, 'The rules and what they would free', exampleRetention),
    problems: ['too-slow'],
  },
  setRetention: {
    method: 'PUT',
    url: '/v1/retention',
    tag: 'records',
    summary: 'Set what the team lets go',
    description: `Workers see to it in small pieces, from now on. What has been thinned says when, and is computed again when the same evaluation is posted again. ${KEPT}`,
    role: 'admin',
    body: retentionRules,
    bodyExample: exampleRetention.rules,
    responses: { 200: { description: 'The rules as they are now', schema: retention } },
    problems: ['too-slow'],
  },
} as const satisfies Record<string, Route>;
