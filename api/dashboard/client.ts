import type { paths } from '../../openapi/client-types.ts';

/** What a GET of a path answers, by the contract. */
export type Answer<Path extends keyof paths> = paths[Path] extends {
  get: { responses: { 200: { content: { 'application/json': infer Body } } } };
}
  ? Body
  : never;

/** A refusal as the service words it (RFC 9457), or why it could not be asked. */
export class Refused extends Error {
  readonly code: string;
  readonly status: number;
  readonly errors: readonly { pointer: string; detail: string }[];
  constructor(message: string, { code, status, errors = [] }: { code: string; status: number; errors?: Refused['errors'] }) {
    super(message);
    this.code = code;
    this.status = status;
    this.errors = errors;
  }
}

const KEY = 'strutwright-key';
/** The key stays in this tab: not in an address, not on disk. */
export const keptKey = (): string | null => sessionStorage.getItem(KEY);
export const keepKey = (key: string): void => sessionStorage.setItem(KEY, key);
export const forgetKey = (): void => sessionStorage.removeItem(KEY);

export interface Asked {
  method?: 'GET' | 'POST' | 'PATCH' | 'DELETE';
  body?: unknown;
  /** A file as text, in place of a body. */
  csv?: string;
  etag?: string;
  signal?: AbortSignal;
}

export interface Got<T> {
  /** null: unchanged since the ETag that was sent. */
  body: T | null;
  etag: string;
  location: string | null;
}

/** The content of a file. Throws Refused. */
export async function fetched(url: string): Promise<Blob> {
  const answer = await sent(url, {});
  if (answer.ok) return answer.blob();
  throw await refusal(answer);
}

/** One request with the key. Throws Refused for everything that is no answer. */
export async function ask<T>(url: string, asked: Asked = {}): Promise<Got<T>> {
  const answer = await sent(url, asked);
  const got = { etag: answer.headers.get('etag') ?? '', location: answer.headers.get('location') };
  if (answer.status === 304) return { ...got, body: null };
  if (answer.ok) return { ...got, body: (await answer.json()) as T };
  throw await refusal(answer);
}

async function sent(url: string, { method = 'GET', body, csv, etag, signal }: Asked): Promise<Response> {
  const headers = new Headers({ authorization: `Bearer ${keptKey() ?? ''}` });
  const text = body === undefined ? csv : JSON.stringify(body);
  if (text !== undefined) headers.set('content-type', body === undefined ? 'text/csv' : 'application/json');
  if (etag) headers.set('if-none-match', etag);
  return fetch(url, { method, headers, body: text, signal }).catch((error: Error) => {
    if (error.name === 'AbortError') throw error;
    throw new Refused('The service does not answer.', { code: 'unreachable', status: 0 });
  });
}

async function refusal(answer: Response): Promise<Refused> {
  const problem = await answer.json().catch(() => null);
  // of a single field the detail is what is said of that field, which is told below it
  const words = problem?.errors?.length === 1 && problem.detail?.includes(problem.errors[0].pointer) ? problem.title : problem?.detail;
  return new Refused(words ?? `The service answered ${answer.status}.`, {
    code: problem?.code ?? 'unknown',
    status: answer.status,
    errors: problem?.errors,
  });
}
