import { describe, expect, it } from 'vitest';
import { filtersOf, historyQuery, OPERATORS, QUANTITIES, sortOf, validate } from '../../openapi/index.ts';

const errorsOf = (query: object) => {
  const checked = validate(historyQuery, query);
  return checked.ok ? [] : checked.errors;
};

describe('history query', () => {
  it('reads filters, order and page from text', () => {
    const query = historyQuery.parse({ 'massG.gte': '300', 'massG.lte': '3.2e2', sort: '-reboundHeightMm', limit: '20', status: 'done' });
    expect(filtersOf(query)).toEqual([
      { quantity: 'massG', op: 'gte', value: 300 },
      { quantity: 'massG', op: 'lte', value: 320 },
    ]);
    expect(sortOf(query)).toEqual({ by: 'reboundHeightMm', descending: true });
    expect(query).toMatchObject({ limit: 20, status: 'done' });
  });

  it('has defaults: the newest first, fifty of a page', () => {
    const query = historyQuery.parse({});
    expect([sortOf(query), query.limit, filtersOf(query)]).toEqual([{ by: 'createdAt', descending: true }, 50, []]);
  });

  it('takes every quantity with every operator, a dot in the name or not, and sorts by each both ways', () => {
    for (const quantity of QUANTITIES) {
      for (const op of OPERATORS) {
        const query = historyQuery.parse({ [`${quantity}.${op}`]: '-1.5' });
        expect(filtersOf(query)).toEqual([{ quantity, op, value: -1.5 }]);
      }
      for (const sign of ['', '-'])
        expect(sortOf(historyQuery.parse({ sort: sign + quantity }))).toEqual({ by: quantity, descending: sign === '-' });
    }
  });

  it.each([
    [{ limit: '0' }, '/limit', 'is "0"; allowed: a whole number, at least 1, at most 200'],
    [{ limit: '201' }, '/limit', 'is "201"; allowed: a whole number, at least 1, at most 200'],
    [{ limit: '' }, '/limit', 'is ""; allowed: a whole number, at least 1, at most 200'],
    [{ limit: ['1', '2'] }, '/limit', 'is a list of 2; allowed: a whole number, at least 1, at most 200'],
    [{ 'massG.gte': 'heavy' }, '/massG.gte', 'is "heavy"; allowed: a number'],
    [{ 'massG.gte': '0x10' }, '/massG.gte', 'is "0x10"; allowed: a number'],
    [{ 'massG.gte': '1e999' }, '/massG.gte', 'is "1e999"; allowed: a number'],
    [{ status: 'lost' }, '/status', 'is "lost"; allowed: "queued", "running", "done", "failed", "cancelled"'],
    [{ cursor: '?' }, '/cursor', 'is "?"; allowed: the nextCursor of an earlier page, unchanged'],
    [{ designId: '7' }, '/designId', 'is "7"; allowed: a UUID'],
  ])('%j is refused', (query, pointer, detail) => {
    expect(errorsOf(query)).toEqual([expect.objectContaining({ pointer, detail })]);
  });

  it('names what a filter may be when it is unknown', () => {
    const [error] = errorsOf({ 'massGrams.gte': '1' });
    expect(error).toMatchObject({ pointer: '/massGrams.gte', value: '1' });
    expect(error.detail).toMatch(/allowed: status, .* \.gte, .*massG, .*minCellOpeningMm$/);
    expect(errorsOf({ sort: 'mass' })[0].detail).toMatch(/allowed: createdAt or one of massG/);
  });
});
