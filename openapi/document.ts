import { type Components, type Direction, gatherComponents } from './components.ts';
import { HEADER_PARAMETERS, HEADERS } from './document-headers.ts';
import { headersOf, problemReferences, problemResponses } from './document-problems.ts';
import { DESCRIPTION, TAGS } from './document-text.ts';
import { problem } from './problems.ts';
import type { Answer, Route } from './route.ts';
import { routes } from './routes/index.ts';
import type { JsonSchema } from './words.ts';

/** Version of the contract: a change of a name or a meaning is a new major one, at /v2. */
export const CONTRACT_VERSION = '1.0.0';

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
      parameters: HEADER_PARAMETERS,
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
  const { method, tag, summary, description, open, role, params, query, body, bodyExample, takes = 'application/json' } = route;
  const content = (schema: JsonSchema, example: unknown) => ({ schema, ...(example === undefined ? {} : { example }) });
  const told = [description, role && `For keys of the role \`${role}\` only.`].filter(Boolean).join(' ');
  const parameters = [
    ...parametersOf(params, 'path', components),
    ...parametersOf(query, 'query', components),
    ...(method === 'POST' ? headerParameters('IdempotencyKey') : []),
    ...(route.responses[206] ? headerParameters('Range', 'IfRange') : []),
  ];
  return {
    operationId,
    tags: [tag],
    summary,
    ...(told && { description: told }),
    ...(open && { security: [] }),
    ...(parameters.length > 0 && { parameters }),
    ...(body && {
      requestBody: { required: true, content: { [takes]: content(components.schema(body, 'input'), bodyExample) } },
    }),
    responses: {
      ...Object.fromEntries(Object.entries(route.responses).map(([status, answer]) => [status, response(answer, components)])),
      ...(route.responses[200]?.headers?.includes('ETag') && { 304: { description: 'Not modified' } }),
      ...problemReferences(route),
    },
  };
}

const headerParameters = (...names: (keyof typeof HEADER_PARAMETERS)[]) =>
  names.map((name) => ({ $ref: `#/components/parameters/${name}` }));

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
