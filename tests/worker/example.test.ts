import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { exampleEvaluation, exampleRequest } from '../../openapi/examples.ts';
import { catalogueLookup, ENGINE_VERSION, evaluationInput, type Result, resolveInput } from '../../openapi/index.ts';
import { inputHash } from '../../prisma/index.ts';
import { type EngineResult, evaluate } from '../../worker/engine/index.ts';

const { input } = exampleEvaluation;
const result = exampleEvaluation.result!;

/** What is compared: all but the sentences and the places of checks, which equal numbers may put in another order. */
const compared = ({ printability, ...rest }: Omit<Result, 'engine'> | EngineResult) => ({
  ...rest,
  printability: { verdict: printability.verdict, checks: printability.checks.map(({ message: _, where: __, ...check }) => check) },
});

/** Numbers as expect is to compare them: to nine digits of their own, for another release of Node may differ in the last; noise is 0. */
const near = (value: unknown): unknown => {
  if (typeof value === 'number') return expect.closeTo(value, Math.min(6, 9 - Math.ceil(Math.log10(Math.abs(value) + 1))));
  if (typeof value !== 'object' || value === null) return value;
  return Array.isArray(value) ? value.map(near) : Object.fromEntries(Object.entries(value).map(([key, member]) => [key, near(member)]));
};

test('the example of the document is what the engine gives for its request; `npm run contract` writes it anew', async () => {
  expect(await resolveInput(evaluationInput.parse(exampleRequest), catalogueLookup)).toEqual({ ok: true, value: input });
  const outcome = evaluate(input);
  if (outcome.kind !== 'done') expect.fail(JSON.stringify(outcome));
  const { engine, ...numbers } = result;
  expect(compared(numbers)).toEqual(near(compared(outcome.result)));
  expect(engine).toEqual({ version: ENGINE_VERSION, inputHash: inputHash(input) });
});

test('the README posts the same request', () => {
  const [, body] = /-d '(\{.*?\})'\n/s.exec(readFileSync('README.md', 'utf8'))!;
  expect({ ...JSON.parse(body), tests: exampleRequest.tests }).toEqual(exampleRequest);
});
