import { z } from 'zod';
import { evaluationDifference, withEvaluation } from '../difference.ts';
import { evaluation, evaluationRequest, file } from '../evaluation.ts';
import { eventsQuery } from '../events.ts';
import {
  exampleEvaluation,
  exampleEvaluationDifference,
  exampleEvents,
  exampleFile,
  exampleFront,
  exampleRequest,
  exampleSummary,
} from '../examples.ts';
import { FILE_KINDS, fileOrder, orderedFile } from '../files.ts';
import { frontQuery, paretoFront } from '../front.ts';
import { exportQuery, historyPage, historyQuery } from '../history.ts';
import type { Route } from '../route.ts';
import { selectionEffects, selectionEffectsQuery } from '../surface.ts';
import { exampleSelectionEffects } from '../surface-examples.ts';
import { byId, download, drawing, fileName, ok, page } from './answers.ts';

const FOLLOWED = `Sends an event \`evaluation\` with \`{ id, status, stage, progressPct }\` for the state of each and for every change of it.
When all that were asked for are final, an event \`end\` comes and the stream ends. A stream that ends without it (at the latest after 15
minutes) is to be opened again, with \`Last-Event-ID\`: the states as they are then come first.`;

const ORDERED = `A worker makes the file, once; it is then kept. Names: ${Object.entries(FILE_KINDS)
  .map(([name, { what }]) => `\`${name}\` (${what})`)
  .join('; ')}.`;

export const evaluationRoutes = {
  createEvaluation: {
    method: 'POST',
    url: '/v1/evaluations',
    tag: 'evaluations',
    summary: 'Evaluate a parameter set',
    description: 'Answers at once; the evaluation is computed by a worker. The same input under the same engine version is computed once.',
    body: evaluationRequest,
    bodyExample: exampleRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: evaluation, headers: ['Location'] } },
  },
  listEvaluations: {
    method: 'GET',
    url: '/v1/evaluations',
    tag: 'evaluations',
    summary: 'The history of evaluations',
    description:
      'Filter by a number with `massG.gte=300&massG.lte=320`, sort with `sort=-reboundHeightMm`. Any other number of a result is bounded by its dotted path, `balance.radialRunoutMm.lte=0.5`: a stretch of the evaluations that the other filters mean is then looked at one by one, `scan` says how many and whether that was all, and the next page goes on behind them. A question that takes longer than two seconds is stopped and answered 503 `too-slow`, with what to narrow.',
    query: historyQuery,
    responses: {
      200: {
        description: 'A page of the history',
        schema: historyPage,
        headers: ['ETag'],
        example: { items: [exampleSummary], nextCursor: null },
      },
    },
    problems: ['too-slow'],
  },
  getFront: {
    method: 'GET',
    url: '/v1/evaluations/front',
    tag: 'evaluations',
    summary: 'The evaluations that no other beats in two to four quantities at once',
    description:
      'Takes the filters of the history: `batchId=...&minimise=totalPerPart&maximise=reboundHeightMm`. At most 50 000 evaluations are looked at; the answer says whether that was all.',
    query: frontQuery,
    responses: ok(paretoFront, 'The front', exampleFront),
    problems: ['too-slow'],
  },
  drawFront: {
    method: 'GET',
    url: '/v1/evaluations/front.svg',
    tag: 'evaluations',
    summary: 'The same front as a picture',
    description:
      'What nothing beats joined, what is beaten pale; units and which way is better on the axes. Of three or four quantities a plot of each of the others over the first.',
    query: frontQuery,
    responses: drawing('The plot'),
    problems: ['too-slow'],
  },
  getSelectionEffects: {
    method: 'GET',
    url: '/v1/evaluations/effects',
    tag: 'evaluations',
    summary: 'How a quantity follows each parameter over any selection of the history',
    description:
      'Takes the filters of the history, `batchId` and `searchId` among them. Without `path`, every parameter that all these evaluations have and that differs between them is looked at, 21 at most. At most 50 000 evaluations are looked at and 5 000 of them drawn; the answer says so. Of evaluations that were not laid out for it, as those of a search, shares are a hint and no proof: what was changed together cannot be told apart.',
    query: selectionEffectsQuery,
    responses: ok(selectionEffects, 'The effects', exampleSelectionEffects),
    problems: ['too-slow'],
  },
  drawSelectionEffects: {
    method: 'GET',
    url: '/v1/evaluations/effects.svg',
    tag: 'evaluations',
    summary: 'The same effects as a picture',
    query: selectionEffectsQuery,
    responses: drawing('The plot'),
    problems: ['too-slow'],
  },
  exportEvaluations: {
    method: 'GET',
    url: '/v1/exports/evaluations',
    tag: 'evaluations',
    summary: 'The history as one file: CSV, NDJSON or Parquet',
    description:
      'Takes the filters and the order of the history; a row for each evaluation with its parameters and numbers. It is written as it is read, however long it is.',
    query: exportQuery,
    problems: ['too-slow'],
    responses: { 200: { description: 'The file', mediaType: 'application/octet-stream' } },
  },
  getEvaluation: {
    method: 'GET',
    url: '/v1/evaluations/:id',
    tag: 'evaluations',
    summary: 'Status and result of an evaluation',
    params: byId,
    responses: ok(evaluation, 'The evaluation', exampleEvaluation),
  },
  cancelEvaluation: {
    method: 'DELETE',
    url: '/v1/evaluations/:id',
    tag: 'evaluations',
    summary: 'Cancel an evaluation',
    description: 'Stops what has not finished; nothing is erased. Cancelling twice is the same as cancelling once.',
    params: byId,
    responses: { 200: { description: 'The evaluation, cancelled', schema: evaluation } },
    problems: ['already-finished'],
  },
  compareEvaluations: {
    method: 'GET',
    url: '/v1/evaluations/:id/difference',
    tag: 'evaluations',
    summary: 'Two evaluations side by side: what differs, and how much of it is the same',
    params: byId,
    query: withEvaluation,
    responses: ok(evaluationDifference, 'The differences', exampleEvaluationDifference),
  },
  listFiles: {
    method: 'GET',
    url: '/v1/evaluations/:id/files',
    tag: 'evaluations',
    summary: 'The files of an evaluation',
    params: byId,
    responses: page(file, 'All files; empty until the evaluation is done', exampleFile),
  },
  orderFile: {
    method: 'POST',
    url: '/v1/evaluations/:id/files',
    tag: 'evaluations',
    summary: 'Have a file made',
    description: ORDERED,
    params: byId,
    body: fileOrder,
    bodyExample: { name: 'lattice.stl', chordMm: 0.02 },
    responses: { 202: { description: 'Accepted: GET the Location until it answers 200', schema: orderedFile, headers: ['Location'] } },
    problems: ['thinned', 'not-finished'],
  },
  getFile: {
    method: 'GET',
    url: '/v1/evaluations/:id/files/:name',
    tag: 'evaluations',
    summary: 'Download a file',
    description:
      'graph.json and lattice.3mf are made when they are first asked for, if they are not there. Of any other file that can be made but has not been, the answer says how, or how far it is.',
    params: fileName,
    responses: download(),
    problems: ['range-not-satisfiable', 'file-not-made'],
  },
  followEvaluations: {
    method: 'GET',
    url: '/v1/events',
    tag: 'evaluations',
    summary: 'Follow evaluations as server-sent events',
    description: FOLLOWED,
    query: eventsQuery,
    responses: {
      200: { description: 'The events, as they happen', schema: z.string(), mediaType: 'text/event-stream', example: exampleEvents },
    },
  },
} as const satisfies Record<string, Route>;
