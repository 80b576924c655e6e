import { type FieldError, PROBLEMS, type ProblemCode } from '../openapi/index.ts';

export interface RefusalOptions {
  detail?: string;
  errors?: readonly FieldError[];
  headers?: Readonly<Record<string, string>>;
}

/** An answer with problem details that a handler or a check decides on; thrown, because it ends the request wherever it is found. */
export class Refusal extends Error {
  override readonly name = 'Refusal';
  readonly code: ProblemCode;
  readonly detail?: string;
  readonly errors: readonly FieldError[];
  readonly headers: Readonly<Record<string, string>>;
  constructor(code: ProblemCode, { detail, errors = [], headers = {} }: RefusalOptions = {}) {
    super(detail ?? PROBLEMS[code].title);
    this.code = code;
    this.detail = detail;
    this.errors = errors;
    this.headers = headers;
  }
}

/** The value, or the refusal `not-found` where there is none. */
export function found<T>(value: T | null, what: string): T {
  if (value === null) throw new Refusal('not-found', { detail: `There is no such ${what} in this team` });
  return value;
}
