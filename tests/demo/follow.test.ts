import { expect, test } from 'vitest';
import { exampleEvaluation, exampleRequest } from '../../openapi/examples.ts';
import { type Evaluation, openClient } from '../../openapi/index.ts';
import { evaluate } from './follow.ts';

const BASE: Evaluation = { ...exampleEvaluation, status: 'running', result: null, error: null };
const RESULT = { engine: { version: '0', inputHash: '' } } as Evaluation['result'];

/** A service whose evaluation is in these states, one after the other; each is told once, then twice as nothing new. */
function serviceOf(states: Partial<Evaluation>[]) {
  const told = states.flatMap((state, k) => [
    { k, state },
    { k, state },
    { k, state },
  ]);
  return openClient({
    baseUrl: 'http://service',
    fetch: async (request) => {
      const { method, headers } = request as Request;
      if (method === 'POST') return Response.json({ ...BASE, status: 'queued', stage: null }, { status: 202 });
      const { k, state } = told.shift()!;
      const etag = `"${k}"`;
      if (headers.get('if-none-match') === etag) return new Response(null, { status: 304, headers: { etag } });
      return Response.json({ ...BASE, ...state }, { headers: { etag } });
    },
  });
}

const shown: string[] = [];
const watched = { progress: { show: (stage: string) => void shown.push(stage), end: () => {} }, signal: new AbortController().signal };

test('an evaluation is asked for with the ETag of the answer before, until it is done', async () => {
  const client = serviceOf([{ stage: 'mass' }, { stage: 'slices' }, { status: 'done', result: RESULT }]);
  const { evaluation, asked, unchanged } = await evaluate(client, exampleRequest, watched);
  expect(evaluation).toMatchObject({ status: 'done', result: RESULT });
  expect([asked, unchanged]).toEqual([7, 4]);
  expect(shown).toEqual(['queued', 'mass', 'mass', 'mass', 'slices', 'slices', 'slices', 'done']);
});

test('an evaluation that fails is told with its reason', async () => {
  const error = { code: 'struts-intersect', message: 'Two struts cross.' };
  const client = serviceOf([{ status: 'failed', error }]);
  await expect(evaluate(client, exampleRequest, watched)).rejects.toThrow('The evaluation ended failed: Two struts cross.');
});

test('a refusal is told in the words of the service', async () => {
  const refuse = async () => Response.json({ title: 'The body is not valid', detail: '/material', requestId: 'r-1' }, { status: 422 });
  const client = openClient({ baseUrl: 'http://service', fetch: refuse });
  await expect(evaluate(client, exampleRequest, watched)).rejects.toThrow(
    /answered 422 at .*\. The body is not valid: \/material \(request r-1\)$/,
  );
});
