import { print, printBody, printChange, printList, printQuery } from '../print.ts';
import type { Route } from '../route.ts';
import { examplePrint, examplePrintBody } from '../test-house-examples.ts';
import { byId, created, ok, page } from './answers.ts';

export const printRoutes = {
  createPrints: {
    method: 'POST',
    url: '/v1/prints',
    tag: 'test house',
    summary: 'Enter printed parts: one or several copies of a version, out of one build',
    body: printBody,
    bodyExample: examplePrintBody,
    responses: created(printList, 'The prints, in the order of the copies; Location is the first'),
    problems: ['duplicate'],
  },
  listPrints: {
    method: 'GET',
    url: '/v1/prints',
    tag: 'test house',
    summary: 'The prints of the team, newest first',
    query: printQuery,
    responses: page(print, 'A page of prints', examplePrint),
  },
  getPrint: {
    method: 'GET',
    url: '/v1/prints/:id',
    tag: 'test house',
    summary: 'A print',
    params: byId,
    responses: ok(print, 'The print', examplePrint),
  },
  changePrint: {
    method: 'PATCH',
    url: '/v1/prints/:id',
    tag: 'test house',
    summary: 'Change the notes or the finishing of a print',
    description: 'What it was printed of, where and when never changes: archive it and enter it again.',
    params: byId,
    body: printChange,
    bodyExample: { finishing: [...examplePrintBody.finishing, { kind: 'dyeing', method: 'hot bath', massChangeG: 0.9 }] },
    responses: { 200: { description: 'The print, changed', schema: print } },
  },
  archivePrint: {
    method: 'DELETE',
    url: '/v1/prints/:id',
    tag: 'test house',
    summary: 'Archive a print',
    description: 'It leaves the list, and what was measured on it no longer counts; both can still be read.',
    params: byId,
    responses: { 200: { description: 'The print, archived', schema: print } },
  },
} as const satisfies Record<string, Route>;
