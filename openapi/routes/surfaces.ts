import { pageQuery } from '../query.ts';
import type { Route } from '../route.ts';
import { effects, effectsQuery, surface, surfacePredictions, surfaceQuestion, surfaceRequest, surfaceSummary } from '../surface.ts';
import {
  exampleEffects,
  examplePredictions,
  exampleSurface,
  exampleSurfaceQuestion,
  exampleSurfaceRequest,
  exampleSurfaceSummary,
} from '../surface-examples.ts';
import { byId, drawing, ok, page } from './answers.ts';

export const surfaceRoutes = {
  getEffects: {
    method: 'GET',
    url: '/v1/batches/:id/effects',
    tag: 'batches',
    summary: 'How a quantity follows each parameter of a batch: mean and spread by its values, and how much it explains',
    params: byId,
    query: effectsQuery,
    responses: ok(effects, 'The effects', exampleEffects),
    problems: ['too-slow'],
  },
  drawEffects: {
    method: 'GET',
    url: '/v1/batches/:id/effects.svg',
    tag: 'batches',
    summary: 'The same effects as a picture',
    params: byId,
    query: effectsQuery,
    responses: drawing('The plot'),
    problems: ['too-slow'],
  },
  createSurface: {
    method: 'POST',
    url: '/v1/surfaces',
    tag: 'batches',
    summary: 'Fit surfaces to what a batch or a search found, to ask them what if',
    description:
      'Answers at once; a worker fits a Gaussian process and a quadratic polynomial to each quantity and to its logarithm, and takes the one that errs least at points it has not seen. The same members give the same surface.',
    body: surfaceRequest,
    bodyExample: exampleSurfaceRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: surface, headers: ['Location'] } },
    problems: ['too-slow'],
  },
  listSurfaces: {
    method: 'GET',
    url: '/v1/surfaces',
    tag: 'batches',
    summary: 'The surfaces of the team, newest first',
    query: pageQuery,
    responses: page(surfaceSummary, 'A page of surfaces', exampleSurfaceSummary),
  },
  getSurface: {
    method: 'GET',
    url: '/v1/surfaces/:id',
    tag: 'batches',
    summary: 'A surface: its models, how far each errs, how often its intervals held',
    params: byId,
    responses: ok(surface, 'The surface', exampleSurface),
  },
  predict: {
    method: 'POST',
    url: '/v1/surfaces/:id/predictions',
    tag: 'batches',
    summary: 'Ask a surface what if: values with intervals, at once',
    params: byId,
    body: surfaceQuestion,
    bodyExample: exampleSurfaceQuestion,
    responses: { 200: { description: 'What it expects at each point', schema: surfacePredictions, example: examplePredictions } },
    problems: ['not-finished'],
  },
} as const satisfies Record<string, Route>;
