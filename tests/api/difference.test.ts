import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { difference, resultDifference } from '../../api/difference.ts';
import { exampleEvaluation } from '../../openapi/examples.ts';

const value = fc.jsonValue({ maxDepth: 4 });
const paths = (left: unknown, right: unknown) => difference(left, right).differing.map(({ path }) => path);

describe('the difference of two values', () => {
  test('of a value and itself is none, and every leaf is counted', () => {
    const body = { a: 1, b: [{ c: null }, { c: 'x' }], d: {}, e: [] };
    expect(difference(body, structuredClone(body))).toEqual({ differing: [], equalCount: 3 });
    fc.assert(fc.property(value, (each) => void expect(difference(each, structuredClone(each)).differing).toEqual([])));
  });

  test('turned round has the same paths, and the opposite changes', () => {
    fc.assert(
      fc.property(value, value, (left, right) => {
        const [there, back] = [difference(left, right), difference(right, left)];
        expect(back.equalCount).toBe(there.equalCount);
        const turned = back.differing.map((each) => ({ path: each.path, left: each.right, right: each.left }));
        const byPath = <T extends { path: string }>(list: T[]) => list.sort((a, b) => (a.path < b.path ? -1 : 1));
        expect(byPath(turned)).toEqual(byPath(there.differing.map(({ path, left, right }) => ({ path, left, right }))));
      }),
    );
  });

  test('tells the change and its share of the left one', () => {
    expect(difference({ a: -4, b: 0, c: 'x' }, { a: -3, b: 2, c: 1 }).differing).toEqual([
      { path: 'a', left: -4, right: -3, change: 1, changePct: 25 },
      { path: 'b', left: 0, right: 2, change: 2, changePct: null },
      { path: 'c', left: 'x', right: 1, change: null, changePct: null },
    ]);
  });

  test('has null where a side has no such leaf', () => {
    expect(difference({ a: 1 }, { b: { c: true } }).differing).toEqual([
      { path: 'a', left: 1, right: null, change: null, changePct: null },
      { path: 'b.c', left: null, right: true, change: null, changePct: null },
    ]);
  });

  test('finds items by their names where they have some, else by their place', () => {
    const check = (id: string, limit: number) => ({ id, limit });
    expect(paths([check('gap', 1), check('size', 2)], [check('new', 9), check('gap', 1), check('size', 3)])).toEqual([
      'size.limit',
      'new.id',
      'new.limit',
    ]);
    expect(
      paths(
        [
          { id: 'a', n: 1 },
          { id: 'a', n: 2 },
        ],
        [
          { id: 'a', n: 1 },
          { id: 'a', n: 3 },
        ],
      ),
    ).toEqual(['1.n']);
    expect(paths([3, 4], [3, 5])).toEqual(['1']);
  });
});

test('two results of one lattice differ in nothing, whoever computed them and whichever places are shown', () => {
  const one = exampleEvaluation.result!;
  const other = structuredClone(one);
  other.engine = { version: '9.9.9', inputHash: 'sha256:other' };
  for (const check of other.printability.checks) check.where = [{ kind: 'node', index: 7 }];
  expect(resultDifference(one, other).differing).toEqual([]);
  other.massProperties.massG = one.massProperties.massG + 1;
  expect(resultDifference(one, other).differing.map(({ path }) => path)).toEqual(['massProperties.massG']);
});
