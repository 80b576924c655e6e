import type { HEADERS } from './document-headers.ts';
import { PROBLEM_MEDIA_TYPE, PROBLEMS, type ProblemCode } from './problems.ts';
import { problemsOf, type Route } from './route.ts';

const PROBLEM_HEADERS: Partial<Record<ProblemCode, keyof typeof HEADERS>> = {
  unauthorized: 'WWW-Authenticate',
  'too-many-requests': 'Retry-After',
  overloaded: 'Retry-After',
  unavailable: 'Retry-After',
  'range-not-satisfiable': 'Content-Range',
  'idempotency-key-in-use': 'Retry-After',
};
/** References to these headers, as a member to spread; nothing where there are none. */
export const headersOf = (names: readonly (keyof typeof HEADERS)[]) =>
  names.length > 0 && { headers: Object.fromEntries(names.map((name) => [name, { $ref: `#/components/headers/${name}` }])) };

/** Codes of the same status share one answer. */
function byStatus(route: Route): Map<number, ProblemCode[]> {
  const groups = new Map<number, ProblemCode[]>();
  for (const code of problemsOf(route)) groups.set(PROBLEMS[code].status, [...(groups.get(PROBLEMS[code].status) ?? []), code]);
  return groups;
}

/** `invalid-query` and `invalid-path` are answered by `InvalidQueryOrInvalidPath`. */
const responseName = (codes: readonly ProblemCode[]) => codes.map(words).join('Or');
const words = (code: string) => code.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase());

/** References to the problem answers of one route, by status. */
export function problemReferences(route: Route) {
  return Object.fromEntries(
    [...byStatus(route)].map(([status, codes]) => [status, { $ref: `#/components/responses/${responseName(codes)}` }]),
  );
}

/** The problem answers of all routes, by name. */
export function problemResponses(table: readonly Route[]) {
  const named = table
    .flatMap((route) => [...byStatus(route).values()])
    .map((codes) => [responseName(codes), problemResponse(codes)] as const);
  return Object.fromEntries(named.sort(([a], [b]) => (a < b ? -1 : 1)));
}

function problemResponse(codes: readonly ProblemCode[]) {
  return {
    description: codes.map((code) => `\`${code}\`: ${PROBLEMS[code].title}`).join('; '),
    ...headersOf([...new Set(codes.flatMap((code) => PROBLEM_HEADERS[code] ?? []))]),
    content: { [PROBLEM_MEDIA_TYPE]: { schema: { $ref: '#/components/schemas/Problem' } } },
  };
}
