import { readFileSync } from 'node:fs';
import { validate as validateDocument } from '@readme/openapi-parser';
import openapiTS, { astToString, COMMENT_HEADER } from 'openapi-typescript';
import { describe, expect, it } from 'vitest';
import { openapiDocument, openClient, type Route, routes } from '../../openapi/index.ts';

const committed = (name: string) => readFileSync(new URL(`../../openapi/${name}`, import.meta.url), 'utf8');
const document = openapiDocument();
const all = Object.entries(routes) as [string, Route][];
const again = 'run `npm run contract` and commit what it writes';

describe('the committed files', () => {
  it('openapi.json is what the code generates', () => {
    expect(`${JSON.stringify(document, null, 2)}\n` === committed('openapi.json'), again).toBe(true);
  });

  it('client-types.ts is what openapi.json generates', async () => {
    const tree = await openapiTS(committed('openapi.json'), { defaultNonNullable: false, silent: true });
    expect(`${COMMENT_HEADER}${astToString(tree)}` === committed('client-types.ts'), again).toBe(true);
  });
});

describe('the document', () => {
  it('is valid OpenAPI 3.1', async () => {
    // The parser replaces references in place, so it gets a copy.
    const outcome = await validateDocument(structuredClone(document) as unknown as Parameters<typeof validateDocument>[0]);
    expect(outcome).toMatchObject({ valid: true, warnings: [] });
    expect(document.openapi).toBe('3.1.0');
  });

  it('has each route once, under its operation id', () => {
    const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => [
        (operation as { operationId: string }).operationId,
        method.toUpperCase(),
        path,
      ]),
    );
    const expected = all.map(([id, { method, url }]) => [id, method, url.replace(/:(\w+)/g, '{$1}')]);
    expect(operations.sort()).toEqual(expected.sort());
    expect(new Set(expected.map(([, method, path]) => `${method} ${path}`)).size).toBe(all.length);
  });

  it('refers to every component it has, and has every component it refers to', () => {
    const referred = new Set([...JSON.stringify(document).matchAll(/"\$ref":"#\/components\/([^"]+)"/g)].map(([, name]) => name));
    const { securitySchemes: _, ...components } = document.components;
    const present = Object.entries(components).flatMap(([kind, members]) => Object.keys(members).map((name) => `${kind}/${name}`));
    expect([...referred].sort()).toEqual(present.sort());
  });

  it('has a posted form of a schema only where it differs from the answered one', () => {
    const { schemas } = document.components;
    const forms = Object.keys(schemas).filter((name) => name.endsWith('Input'));
    expect(forms).toContain('ParameterSetInput');
    for (const name of forms) {
      const answered = JSON.stringify(schemas[name.slice(0, -'Input'.length)]);
      const posted = JSON.stringify(schemas[name]);
      expect(posted, name).not.toBe(answered);
    }
  });

  it('asks for a key everywhere but on the open routes', () => {
    expect(document.security).toEqual([{ bearer: [] }]);
    for (const [id, route] of all) {
      const operation = document.paths[route.url.replace(/:(\w+)/g, '{$1}')][route.method.toLowerCase()] as { security?: unknown };
      expect(operation.security, id).toEqual(route.open ? [] : undefined);
      expect(route.url.startsWith('/v1/'), id).toBe(!route.open);
    }
  });

  it.each(['Impact', 'Entrapment', 'Powder', 'Lasers', 'children', 'local codes', 'licensed'])('cautions: %s', (word) => {
    expect(document.info.description).toContain(word);
  });

  it('leaves out the words that only error sentences need', () => {
    expect(JSON.stringify(document)).not.toContain('x-allowed');
  });
});

describe('examples', () => {
  const answers = all.flatMap(([id, route]) => Object.values(route.responses).map((answer) => [id, route, answer] as const));
  it.each(answers.filter(([, { method }, { schema }]) => method === 'GET' && schema))(
    '%s answers with one that keeps to the schema',
    (_, __, answer) => {
      expect(answer.example).toBeDefined();
      expect(answer.schema?.parse(answer.example)).toEqual(answer.example);
    },
  );
  it.each(all.filter(([, { body }]) => body))('%s is posted with one that keeps to the schema', (_, { body, bodyExample }) => {
    expect(body?.safeParse(bodyExample)).toMatchObject({ success: true });
  });
});

describe('the typed client', () => {
  it('sends the key, fills in the path and types the query', async () => {
    const asked: Request[] = [];
    const fetch = async (request: Request) => {
      asked.push(request);
      return Response.json({ items: [], nextCursor: null });
    };
    const client = openClient({ baseUrl: 'http://127.0.0.1:1', key: 'secret', fetch: fetch as typeof globalThis.fetch });
    const { data } = await client.GET('/v1/evaluations', { params: { query: { 'massG.gte': 300, sort: '-massG' } } });
    await client.DELETE('/v1/designs/{id}', { params: { path: { id: 'd1' } } });
    expect(data?.items).toEqual([]);
    expect(asked.map(({ method, url, headers }) => [method, url, headers.get('authorization')])).toEqual([
      ['GET', 'http://127.0.0.1:1/v1/evaluations?massG.gte=300&sort=-massG', 'Bearer secret'],
      ['DELETE', 'http://127.0.0.1:1/v1/designs/d1', 'Bearer secret'],
    ]);
  });
});
