import { describe, expect, it } from 'vitest';
import { PROBLEM_CODES, PROBLEMS, problem, problemDetails, problemsOf, type Route, routes } from '../../openapi/index.ts';

describe('problem details', () => {
  it.each(PROBLEM_CODES)('%s: status, title and type are those of the catalogue', (code) => {
    const details = problemDetails(code, { requestId: 'r1' });
    expect(problem.parse(details)).toEqual(details);
    expect(details).toMatchObject({
      ...PROBLEMS[code],
      code,
      type: `/problems/${code}`,
      detail: PROBLEMS[code].title,
      errors: [],
      requestId: 'r1',
    });
  });

  it('tells the first fields in its detail and counts the rest', () => {
    const errors = ['/a', '/b', '/c', '/d', ''].map((pointer) => ({ pointer, value: 1, detail: 'is 1; allowed: 2' }));
    const { detail } = problemDetails('invalid-body', { errors, requestId: 'r' });
    expect(detail).toBe('/a is 1; allowed: 2 | /b is 1; allowed: 2 | /c is 1; allowed: 2 | and 2 more');
  });

  it('tells nothing of the inside unless it is given a detail', () => {
    expect(problemDetails('internal', { requestId: 'r' }).detail).toBe('The service failed');
  });
});

describe('problems of a route', () => {
  const all = Object.entries(routes) as [string, Route][];

  it.each(all)('%s: body errors are 422, errors of query and path 400', (_, route) => {
    const codes = problemsOf(route);
    expect(codes.includes('invalid-body')).toBe(route.body !== undefined);
    expect(codes.includes('invalid-query')).toBe(route.query !== undefined);
    expect(codes.includes('invalid-path')).toBe(route.params !== undefined);
    expect(new Set(codes).size).toBe(codes.length);
    expect([PROBLEMS['invalid-body'].status, PROBLEMS['invalid-query'].status, PROBLEMS['invalid-path'].status]).toEqual([422, 400, 400]);
  });

  it('every code of the catalogue is either of a route or of the service in front of all routes', () => {
    const outside = ['bad-request', 'no-such-route', 'method-not-allowed', 'uri-too-long', 'headers-too-large'];
    const used = new Set<string>(all.flatMap(([, route]) => problemsOf(route)));
    expect(PROBLEM_CODES.filter((code) => !used.has(code)).sort()).toEqual(outside.sort());
  });
});
