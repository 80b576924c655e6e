import { acceptance, acceptanceBody, acceptanceQuery, acceptanceSummary } from '../acceptance.ts';
import type { Route } from '../route.ts';
import { exampleAcceptance, exampleAcceptanceBody, exampleAcceptanceSummary } from '../test-house-examples.ts';
import { byId, created, ok, page } from './answers.ts';

export const acceptanceRoutes = {
  createAcceptance: {
    method: 'POST',
    url: '/v1/acceptances',
    tag: 'test house',
    summary: 'Decide on what was measured whether a version meets its reference: accepted, rejected, or so many more parts are needed',
    description:
      'Each target is judged by itself, on the means of parts, with nothing left out; the verdict is the worst of them. What was asked, what was read, what was decided and by which key is kept and never changes. No approval: test houses and the bodies concerned decide.',
    body: acceptanceBody,
    bodyExample: exampleAcceptanceBody,
    responses: created(acceptance, 'The decision'),
  },
  listAcceptances: {
    method: 'GET',
    url: '/v1/acceptances',
    tag: 'test house',
    summary: 'The decisions of the team, newest first',
    query: acceptanceQuery,
    responses: page(acceptanceSummary, 'A page of decisions', exampleAcceptanceSummary),
  },
  getAcceptance: {
    method: 'GET',
    url: '/v1/acceptances/:id',
    tag: 'test house',
    summary: 'A decision with the evidence it rests on',
    params: byId,
    responses: ok(acceptance, 'The decision', exampleAcceptance),
  },
} as const satisfies Record<string, Route>;
