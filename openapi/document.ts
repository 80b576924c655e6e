import { type Components, type Direction, gatherComponents } from './components.ts';
import { DESCRIPTION, TAGS } from './document-text.ts';
import { PROBLEM_MEDIA_TYPE, PROBLEMS, type ProblemCode, problem } from './problems.ts';
import { type Answer, problemsOf, type Route } from './route.ts';
import { routes } from './routes.ts';
import type { JsonSchema } from './words.ts';

/** Version of the contract: a change of a name or a meaning is a new major one, at /v2. */
export const CONTRACT_VERSION = '1.0.0';

const HEADERS = {
  Location: { description: 'Where to read what was made', schema: { type: 'string' } },
  ETag: { description: 'Send it back as If-None-Match: an unchanged answer is 304 without a body', schema: { type: 'string' } },
  'WWW-Authenticate': { description: 'How to authenticate', schema: { type: 'string' } },
  'Retry-After': { description: 'Seconds to wait before the next try', schema: { type: 'integer' } },
};
const PROBLEM_HEADERS: Partial<Record<ProblemCode, keyof typeof HEADERS>> = {
  unauthorized: 'WWW-Authenticate',
  'too-many-requests': 'Retry-After',
  overloaded: 'Retry-After',
  unavailable: 'Retry-After',
};
const headersOf = (names: readonly (keyof typeof HEADERS)[]) =>
  names.length > 0 && { headers: Object.fromEntries(names.map((name) => [name, { $ref: `#/components/headers/${name}` }])) };

const words = (code: string) => code.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase());

/** The OpenAPI 3.1 document of a table of routes. The same table gives the same document, to the byte. */
export function openapiDocument(table: Readonly<Record<string, Route>> = routes) {
  const components = gatherComponents([...Object.values(table).flatMap(usesOf), { schema: problem, direction: 'output' }]);
  const paths: Record<string, Record<string, unknown>> = {};
  for (const [operationId, route] of Object.entries(table)) {
    const path = route.url.replace(/:([A-Za-z]+)/g, '{$1}');
    paths[path] = { ...paths[path], [route.method.toLowerCase()]: operation(operationId, route, components) };
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'strutwright',
      version: CONTRACT_VERSION,
      summary: 'Computes what a printed strut lattice will weigh, how true it is, whether it can be sintered and what it will take',
      description: DESCRIPTION,
      license: { name: 'MIT', identifier: 'MIT' },
    },
    servers: [{ url: '/' }],
    security: [{ bearer: [] }],
    tags: TAGS,
    paths,
    components: {
      securitySchemes: { bearer: { type: 'http', scheme: 'bearer', description: 'An API key of the team' } },
      headers: HEADERS,
      responses: problemResponses(Object.values(table)),
      schemas: components.all(),
    },
  };
}
export type OpenapiDocument = ReturnType<typeof openapiDocument>;

function usesOf(route: Route) {
  const answers = Object.values(route.responses).flatMap(({ schema }) => (schema ? [{ schema, direction: 'output' as Direction }] : []));
  return route.body ? [{ schema: route.body, direction: 'input' as Direction }, ...answers] : answers;
}

function operation(operationId: string, route: Route, components: Components) {
  const { tag, summary, description, open, role, params, query, body, bodyExample } = route;
  const content = (schema: JsonSchema, example: unknown) => ({ schema, ...(example === undefined ? {} : { example }) });
  const told = [description, role && `For keys of the role \`${role}\` only.`].filter(Boolean).join(' ');
  const parameters = [...parametersOf(params, 'path', components), ...parametersOf(query, 'query', components)];
  return {
    operationId,
    tags: [tag],
    summary,
    ...(told && { description: told }),
    ...(open && { security: [] }),
    ...(parameters.length > 0 && { parameters }),
    ...(body && {
      requestBody: { required: true, content: { 'application/json': content(components.schema(body, 'input'), bodyExample) } },
    }),
    responses: {
      ...Object.fromEntries(Object.entries(route.responses).map(([status, answer]) => [status, response(answer, components)])),
      ...(route.responses[200]?.headers?.includes('ETag') && { 304: { description: 'Not modified' } }),
      ...problemReferences(route),
    },
  };
}

function response({ description, schema, mediaType = 'application/json', headers = [], example }: Answer, components: Components) {
  const media = { ...(schema && { schema: components.schema(schema, 'output') }), ...(example === undefined ? {} : { example }) };
  return {
    description,
    ...headersOf(headers),
    content: { [mediaType]: media },
  };
}

function parametersOf(schema: Route['query'], place: 'path' | 'query', components: Components) {
  if (!schema) return [];
  const { properties = {}, required = [] } = components.schema(schema, 'input');
  return Object.entries(properties).map(([name, { description, ...rest }]) => ({
    name,
    in: place,
    required: required.includes(name),
    ...(description && { description }),
    schema: rest,
  }));
}

/** Codes of the same status share one answer. */
function byStatus(route: Route): Map<number, ProblemCode[]> {
  const groups = new Map<number, ProblemCode[]>();
  for (const code of problemsOf(route)) groups.set(PROBLEMS[code].status, [...(groups.get(PROBLEMS[code].status) ?? []), code]);
  return groups;
}

const responseName = (codes: readonly ProblemCode[]) => codes.map(words).join('Or');

function problemReferences(route: Route) {
  return Object.fromEntries(
    [...byStatus(route)].map(([status, codes]) => [status, { $ref: `#/components/responses/${responseName(codes)}` }]),
  );
}

function problemResponses(table: readonly Route[]) {
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
