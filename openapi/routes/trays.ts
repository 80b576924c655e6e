import { file } from '../evaluation.ts';
import { exampleFile, exampleTray, exampleTrayRequest, exampleTraySummary } from '../examples.ts';
import { pageQuery } from '../query.ts';
import type { Route } from '../route.ts';
import { tray, trayRequest, traySummary } from '../tray.ts';
import { byId, download, fileName, ok, page } from './answers.ts';

export const trayRoutes = {
  createTray: {
    method: 'POST',
    url: '/v1/trays',
    tag: 'trays',
    summary: 'Plan one build of several versions',
    description:
      'Answers at once; a worker packs the copies, first ones before second ones, and lists those that find no place. The same tray under the same engine version is planned once.',
    body: trayRequest,
    bodyExample: exampleTrayRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: tray, headers: ['Location'] } },
  },
  listTrays: {
    method: 'GET',
    url: '/v1/trays',
    tag: 'trays',
    summary: 'The trays of the team, newest first',
    query: pageQuery,
    responses: page(traySummary, 'A page of trays', exampleTraySummary),
  },
  getTray: {
    method: 'GET',
    url: '/v1/trays/:id',
    tag: 'trays',
    summary: 'A tray: its state, and where each part stands, what the build takes and what each part costs',
    params: byId,
    responses: ok(tray, 'The tray', exampleTray),
  },
  cancelTray: {
    method: 'DELETE',
    url: '/v1/trays/:id',
    tag: 'trays',
    summary: 'Cancel the planning of a tray',
    description: 'Stops what has not finished, soon; nothing is erased. Cancelling twice is the same as cancelling once.',
    params: byId,
    responses: { 200: { description: 'The tray; still running until its worker has stopped', schema: tray } },
    problems: ['already-finished'],
  },
  listTrayFiles: {
    method: 'GET',
    url: '/v1/trays/:id/files',
    tag: 'trays',
    summary: 'The files of a tray: tray.3mf with every part at its place, scaled by what it shrinks, and layers.json',
    params: byId,
    responses: page(file, 'All files; empty until the tray is done', exampleFile),
  },
  getTrayFile: {
    method: 'GET',
    url: '/v1/trays/:id/files/:name',
    tag: 'trays',
    summary: 'Download a file of a tray',
    params: fileName,
    responses: download(),
    problems: ['range-not-satisfiable'],
  },
} as const satisfies Record<string, Route>;
