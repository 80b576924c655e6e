import { pageQuery } from '../query.ts';
import type { Route } from '../route.ts';
import { exampleSearch, exampleSearchRequest, search, searchRequest } from '../search.ts';
import { byId, ok, page } from './answers.ts';

export const searchRoutes = {
  createSearch: {
    method: 'POST',
    url: '/v1/searches',
    tag: 'searches',
    summary: 'Find the parameters that meet the targets of a reference',
    description:
      'Every combination of choices is tried, the better half of them followed; numbers are found by bounded least squares, begun where powers of slender struts put the targets. Each set tried is an ordinary evaluation, and what the history has is not computed again. It ends when the targets are met, when nothing comes nearer, or with the budget.',
    body: searchRequest,
    bodyExample: exampleSearchRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: search, headers: ['Location'] } },
  },
  listSearches: {
    method: 'GET',
    url: '/v1/searches',
    tag: 'searches',
    summary: 'The searches of the team, newest first',
    query: pageQuery,
    responses: page(search, 'A page of searches', exampleSearch),
  },
  getSearch: {
    method: 'GET',
    url: '/v1/searches/:id',
    tag: 'searches',
    summary: 'How far a search is, the best so far, and at its end what to change next or why nothing fits',
    params: byId,
    responses: ok(search, 'The search', exampleSearch),
  },
  cancelSearch: {
    method: 'DELETE',
    url: '/v1/searches/:id',
    tag: 'searches',
    summary: 'Cancel a search',
    description: 'What it has found stays; cancelling twice is the same as cancelling once.',
    params: byId,
    responses: { 200: { description: 'The search, cancelled', schema: search } },
    problems: ['already-finished'],
  },
} as const satisfies Record<string, Route>;
