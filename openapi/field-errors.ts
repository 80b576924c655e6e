import { z } from 'zod';
import type { FieldError } from './problems.ts';
import { type Path, schemaAt } from './schema-path.ts';
import { said, shown } from './shown.ts';
import { allowedWords, type JsonSchema, keyWords, rangeWords } from './words.ts';

type Issue = z.core.$ZodIssue;

const MOST_ERRORS = 50;

/** A JSON Pointer (RFC 6901); a key too long to be of use is shortened. */
const pointerOf = (path: Path): string => path.map((key) => `/${escaped(String(shown(String(key))))}`).join('');
const escaped = (key: string) => key.replaceAll('~', '~0').replaceAll('/', '~1');

function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const key of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/** Which branch is meant: one whose outermost kind fits, of those the one with the fewest faults; -1 when no kind fits. */
function branchMeant(branches: readonly Issue[][]): number {
  const faults = branches.map((issues) =>
    issues.some((each) => each.path.length === 0 && each.code === 'invalid_type') ? Number.POSITIVE_INFINITY : issues.length,
  );
  const fewest = Math.min(...faults);
  return Number.isFinite(fewest) ? faults.indexOf(fewest) : -1;
}

/** Where text is one of several kinds allowed, and is refused as text, only the text's rules are of interest. */
const textBranch = (schema: JsonSchema): JsonSchema => schema.anyOf?.find((each) => each.type === 'string') ?? schema;

/** A pattern without `x-allowed` is given with a message of its own, which says it better than the pattern. */
const formatWords = (issue: z.core.$ZodIssueInvalidStringFormat, schema: JsonSchema): string =>
  issue.format === 'regex' && !schema['x-allowed'] ? issue.message : allowedWords(schema);

/** What zod says of a value, in our words. */
function sentence(issue: Issue, value: unknown, schema: JsonSchema): string {
  const is = `is ${said(value)}`;
  const whole = typeof value === 'object' && value !== null;
  if (issue.code === 'custom') return whole ? issue.message : `${is}; ${issue.message}`;
  if (value === undefined) return `is missing; required: ${allowedWords(schema)}`;
  if (issue.code === 'invalid_format') return `${is}; allowed: ${formatWords(issue, textBranch(schema))}`;
  const range = typeof value === 'number' && Number.isFinite(value) && issue.code !== 'invalid_type' ? rangeWords(schema) : '';
  return `${is}; allowed: ${range || allowedWords(schema)}`;
}

/** Where an issue's path starts: the body it is part of, and the schema of what stands there. */
interface Place {
  body: unknown;
  root: JsonSchema;
  path: Path;
  schema: JsonSchema;
}

function told(issue: Issue, { body, root, ...from }: Place): FieldError[] {
  const path = [...from.path, ...issue.path];
  const start = { schema: from.schema, value: valueAt(body, from.path) };
  const schema = schemaAt(start, issue.path, root);
  const value = valueAt(body, path);
  const at = (where: Path, given: unknown, detail: string): FieldError => ({ pointer: pointerOf(where), value: shown(given), detail });
  switch (issue.code) {
    case 'invalid_union': {
      const meant = branchMeant(issue.errors);
      if (meant < 0) return [at(path, value, sentence(issue, value, schema))];
      return issue.errors[meant].flatMap((each) => told(each, { body, root, path, schema: schema.anyOf?.[meant] ?? schema }));
    }
    case 'unrecognized_keys': {
      const detail = `is not a known field; allowed: ${keyWords(schema)}`;
      return issue.keys.slice(0, MOST_ERRORS).map((key) => at([...path, key], valueAt(value, [key]), detail));
    }
    case 'invalid_key': {
      const names = schemaAt(start, issue.path.slice(0, -1), root).propertyNames ?? {};
      return [at(path, path.at(-1), `is not allowed as a key; allowed: ${allowedWords(names)}`)];
    }
    default:
      return [at(path, value, sentence(issue, value, schema))];
  }
}

/**
 * Turns the issues of a failed parse into field errors: where (JSON Pointer), what was there, and what is allowed. `schema` is the one that
 * refused `body`: the ranges and the allowed keys are read from it. A value that breaks two rules told in the same words is told once.
 * At most fifty errors.
 */
export function fieldErrors(error: z.core.$ZodError, body: unknown, schema: z.ZodType): FieldError[] {
  const root = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as JsonSchema;
  const errors = error.issues.flatMap((issue) => told(issue, { body, root, path: [], schema: root }));
  return [...new Map(errors.map((each) => [`${each.pointer} ${each.detail}`, each])).values()].slice(0, MOST_ERRORS);
}

export type Validated<T> = { ok: true; value: T } | { ok: false; errors: FieldError[] };

/** Checks a value against a schema: the parsed value with defaults filled in, or the field errors. */
export function validate<S extends z.ZodType>(schema: S, value: unknown): Validated<z.output<S>> {
  const parsed = parse(schema, value);
  if (parsed === null) return { ok: false, errors: [{ pointer: '', value: shown(value), detail: UNREADABLE }] };
  return parsed.success ? { ok: true, value: parsed.data } : { ok: false, errors: fieldErrors(parsed.error, value, schema) };
}

const UNREADABLE =
  'holds an object whose fields stand in for those of a list or a text, such as length; allowed: what the document describes';

/** The schemas' own checks of lengths compare whatever is called so, which throws for what cannot be compared: null then. */
function parse<S extends z.ZodType>(schema: S, value: unknown): z.ZodSafeParseResult<z.output<S>> | null {
  try {
    return schema.safeParse(value);
  } catch (error) {
    if (error instanceof TypeError) return null;
    throw error;
  }
}
