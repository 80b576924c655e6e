import fc from 'fast-check';
import type { z } from 'zod';
import { type Route, routes } from '../../openapi/index.ts';
import { pathsOf, withValue } from '../openapi/bodies.ts';

export interface BadBody {
  method: Route['method'];
  url: string;
  text: string;
  /** What was done to the good body, for the report. */
  story: string;
}

type Path = (string | number)[];
interface Mutation {
  story: string;
  apply(body: unknown): unknown;
}

/** Numbers that JSON.stringify cannot write; they go through it as text and become bare words after it. */
const BARE = ['NaN', 'Infinity', '-Infinity', '1e999', '-1e999', '1e-999', '-0', '0.1e1', '123456789012345678901234567890'];
const MARK = 'bare:';

const numbers = [0, -1, 1e-300, 1e300, -1e300, 5e-324, 2 ** 31, 2 ** 53, 1.5, 0.1 + 0.2];
const texts = [
  '',
  ' ',
  '\0',
  'a\0b',
  '\ud800',
  '\udfff\ud800',
  '__proto__',
  'x'.repeat(20_000),
  "'; drop table app.team; --",
  '../../etc',
  '\u202e',
  '1',
  'NaN',
];
const structures: unknown[] = [null, true, false, [], {}, [[]], [null], { length: 3 }, Array(1000).fill(0), deep(20), deep(200)];
const keys = ['colour', '', ' ', '__proto__', 'constructor', 'prototype', 'a\0', '\ud800', 'toString', 'x'.repeat(2000), 'length', '0'];

function deep(levels: number): unknown {
  let value: unknown = 1;
  for (let k = 0; k < levels; k++) value = k % 2 ? [value] : { value };
  return value;
}

const oddNumber = fc.oneof(fc.constantFrom(...numbers), fc.constantFrom(...BARE.map((word) => MARK + word)), fc.double());
const oddText = fc.oneof(fc.constantFrom(...texts), fc.string({ unit: 'binary', maxLength: 20 }));
const anything = fc.oneof(oddNumber, oddText, fc.constantFrom(...structures), fc.jsonValue({ maxDepth: 3 }));

/** Something that may stand where `was` stood: half the time something odd of its own kind, which comes further than another kind. */
function instead(was: unknown): fc.Arbitrary<unknown> {
  if (typeof was === 'number') return fc.oneof(oddNumber, anything);
  return typeof was === 'string' ? fc.oneof(oddText, anything) : anything;
}

/** One change at one of the places of a body: another value, none, an unknown key beside it, or many of it. */
const mutationAt = (path: Path, was: unknown): fc.Arbitrary<Mutation> => {
  const at = `/${path.join('/')}`;
  const change = (told: string, value: (was: unknown) => unknown): Mutation => ({
    story: `${told} at ${at}`,
    apply: (body) => changed(body, path, value),
  });
  return fc.oneof(
    { weight: 4, arbitrary: instead(was).map((value) => change(`${JSON.stringify(value)?.slice(0, 60)}`, () => value)) },
    { weight: 1, arbitrary: fc.constant(change('nothing', () => undefined)) },
    {
      weight: 2,
      arbitrary: fc
        .tuple(fc.constantFrom(...keys), anything)
        .map(([key, value]) => change(`key ${JSON.stringify(key.slice(0, 20))}`, (was) => withKey(was, key, value))),
    },
    { weight: 1, arbitrary: fc.constant(change('five hundred', fiveHundred)) },
  );
};

/** Not of what is large already: five hundred times five hundred of a whole body is more text than a string holds. */
const fiveHundred = (was: unknown): unknown => ((JSON.stringify(was)?.length ?? 0) > 20_000 ? was : Array(500).fill(was));

const valueAt = (body: unknown, path: Path) => path.reduce<unknown>((here, key) => (here as Record<string | number, unknown>)[key], body);

/** A place that an earlier change took away is left alone. */
function changed(body: unknown, path: Path, value: (was: unknown) => unknown): unknown {
  let was: unknown = body;
  for (const key of path) {
    if (typeof was !== 'object' || was === null || !Object.hasOwn(was, key)) return body;
    was = (was as Record<string | number, unknown>)[key];
  }
  return withValue(body, path, value(was));
}

/** An own property even where its name is __proto__. */
function withKey(was: unknown, key: string, value: unknown): unknown {
  if (typeof was !== 'object' || was === null || Array.isArray(was)) return { [key]: was };
  return Object.defineProperty({ ...was }, key, { value, enumerable: true, writable: true, configurable: true });
}

/** Routes that take JSON. */
export const targets = Object.values<Route>(routes).filter((route) => route.body !== undefined && route.takes === undefined);

/**
 * Bodies of every route that takes one, made bad by one to three changes to a good one. Bad is what the route's schema refuses, and text
 * that nothing may store.
 */
export const badBodies: fc.Arbitrary<BadBody> = fc
  .constantFrom(...targets)
  .chain((route) => {
    const paths = pathsOf(route.bodyExample);
    const mutations = fc.array(
      fc.constantFrom(...paths).chain((path) => mutationAt(path, valueAt(route.bodyExample, path))),
      { minLength: 1, maxLength: 3 },
    );
    return mutations.map((list) => ({ route, list, body: list.reduce((body, each) => each.apply(body), route.bodyExample) }));
  })
  .filter(({ route, body }) => isBad(route.body!, body))

  .map(({ route, list, body }) => ({
    method: route.method,
    url: route.url,
    text: written(body),
    story: list.map((each) => each.story).join('; '),
  }));

const written = (body: unknown) => (JSON.stringify(body) ?? '').replace(new RegExp(`"${MARK}([^"]*)"`, 'g'), '$1');

function isBad(schema: z.ZodType, body: unknown): boolean {
  const text = written(body);
  try {
    const value: unknown = JSON.parse(text);
    return /\\u0000|\\ud[89a-f]/i.test(text) || /"(__proto__|constructor|prototype)":/.test(text) || !schema.safeParse(value).success;
  } catch {
    return true;
  }
}
