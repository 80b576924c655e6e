import type { Problem } from '../../openapi/index.ts';

export interface Answer<T> {
  data?: T;
  error?: unknown;
  response: Response;
}

/** The body of a successful answer; throws the service's own sentence otherwise. */
export function answered<T>({ data, error, response }: Answer<T>): T {
  if (data !== undefined) return data;
  const said = isProblem(error) ? `${error.title}: ${error.detail} (request ${error.requestId})` : String(error ?? 'no reason');
  throw new Error(`The service answered ${response.status} at ${response.url}. ${said}`);
}

const isProblem = (error: unknown): error is Problem => typeof error === 'object' && error !== null && 'detail' in error;
