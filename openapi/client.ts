import createClient, { type Client } from 'openapi-fetch';
import type { paths } from './client-types.ts';

export type StrutwrightClient = Client<paths>;

/** A typed client of the service at `baseUrl`. `key` is the API key; `fetch` may be replaced, to log or to retry. */
export function openClient({ baseUrl, key, fetch }: { baseUrl: string; key?: string; fetch?: typeof globalThis.fetch }): StrutwrightClient {
  const headers = key ? { authorization: `Bearer ${key}` } : {};
  return createClient<paths>({ baseUrl, headers, fetch });
}
