import { z } from 'zod';
import type { FieldError } from './problems.ts';
import { allowedWords, type JsonSchema, keyWords, rangeWords } from './words.ts';

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

const MOST_ERRORS = 50;
const LONGEST_TEXT = 100;
const MOST_MEMBERS = 8;
const DEEPEST = 3;

/** A value fit to be shown: not-a-number and infinities as text, long text, large and deep values shortened. */
export function shown(value: unknown, depth = 0): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value);
  if (typeof value === 'string') return value.length > LONGEST_TEXT ? `${value.slice(0, LONGEST_TEXT)}…` : value;
  if (value === null || typeof value === 'boolean' || value === undefined) return value;
  if (typeof value !== 'object') return typeof value;
  if (depth >= DEEPEST) return '…';
  if (Array.isArray(value)) {
    const items = value.slice(0, MOST_MEMBERS).map((each) => shown(each, depth + 1));
    return value.length > MOST_MEMBERS ? [...items, '…'] : items;
  }
  const keys = Object.keys(value);
  const members = keys.slice(0, MOST_MEMBERS).map((key) => [shown(key), shown((value as Record<string, unknown>)[key], depth + 1)]);
  return Object.fromEntries(keys.length > MOST_MEMBERS ? [...members, ['…', '…']] : members);
}

/** The same in a sentence: `-1`, `"two"`, `NaN`, `a list`, `missing`. */
function said(value: unknown): string {
  if (value === undefined) return 'missing';
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  if (typeof value === 'number') return String(value);
  if (typeof value === 'object' && value !== null) return 'an object';
  return JSON.stringify(shown(value));
}

const pointerOf = (path: Path): string =>
  path
    .map(
      (key) =>
        `/${String(shown(String(key)))
          .replaceAll('~', '~0')
          .replaceAll('/', '~1')}`,
    )
    .join('');

function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const key of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/** Follows references, then one step down; of several branches the first that has such a member. */
function childOf(schema: JsonSchema, key: PropertyKey, root: JsonSchema): JsonSchema | undefined {
  const here = dereferenced(schema, root);
  for (const branch of here.anyOf ?? here.oneOf ?? here.allOf ?? []) {
    const found = childOf(branch, key, root);
    if (found) return found;
  }
  if (typeof key === 'number') return here.prefixItems?.[key] ?? here.items;
  if (here.properties && Object.hasOwn(here.properties, key)) return here.properties[String(key)];
  return typeof here.additionalProperties === 'object' ? here.additionalProperties : undefined;
}

function dereferenced(schema: JsonSchema, root: JsonSchema): JsonSchema {
  const name = schema.$ref?.match(/^#\/\$defs\/(.+)$/)?.[1];
  if (name) return dereferenced(root.$defs?.[name] ?? {}, root);
  return schema.$ref === '#' ? root : schema;
}

function schemaAt(root: JsonSchema, path: Path): JsonSchema {
  let here: JsonSchema | undefined = root;
  for (const key of path) here = here && childOf(here, key, root);
  return here ? withBranches(dereferenced(here, root), root) : {};
}

/** A branch of a union is described in words too, so its references are followed as well. */
function withBranches(schema: JsonSchema, root: JsonSchema): JsonSchema {
  const branches = schema.anyOf ?? schema.oneOf;
  return branches ? { ...schema, anyOf: branches.map((each) => withBranches(dereferenced(each, root), root)) } : schema;
}

/** The branch meant: one whose outermost kind fits, of those the one with the fewest faults; none when no kind fits. */
function branchMeant(branches: readonly Issue[][]): readonly Issue[] | undefined {
  const fitting = branches.filter((issues) => !issues.some((each) => each.path.length === 0 && each.code === 'invalid_type'));
  return fitting.sort((a, b) => a.length - b.length)[0];
}

/** What zod says of a value, in our words. `format` messages are ours already (they are given where a pattern is given). */
function sentence(issue: Issue, value: unknown, schema: JsonSchema): string {
  const is = `is ${said(value)}`;
  const whole = typeof value === 'object' && value !== null;
  if (issue.code === 'custom') return whole ? issue.message : `${is}; ${issue.message}`;
  if (value === undefined) return `is missing; required: ${allowedWords(schema)}`;
  if (issue.code === 'invalid_format' && issue.format === 'regex') return `${is}; allowed: ${schema['x-allowed'] ?? issue.message}`;
  const range = typeof value === 'number' && Number.isFinite(value) && issue.code !== 'invalid_type' ? rangeWords(schema) : '';
  return `${is}; allowed: ${range || allowedWords(schema)}`;
}

function told(issue: Issue, base: Path, body: unknown, root: JsonSchema): FieldError[] {
  const path = [...base, ...issue.path];
  if (issue.code === 'invalid_union') {
    const meant = branchMeant(issue.errors);
    if (meant) return meant.flatMap((each) => told(each, path, body, root));
  }
  const schema = schemaAt(root, path);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.slice(0, MOST_ERRORS).map((key) => ({
      pointer: pointerOf([...path, key]),
      value: shown(valueAt(body, [...path, key])),
      detail: `is not a known field; allowed: ${keyWords(keyed(schema))}`,
    }));
  }
  if (issue.code === 'invalid_key') {
    const names = dereferenced(schemaAt(root, path.slice(0, -1)), root).propertyNames ?? {};
    return [
      { pointer: pointerOf(path), value: shown(path.at(-1)), detail: `is a key that is not allowed; allowed: ${allowedWords(names)}` },
    ];
  }
  const value = valueAt(body, path);
  return [{ pointer: pointerOf(path), value: shown(value), detail: sentence(issue, value, schema) }];
}

const keyed = (schema: JsonSchema): JsonSchema => (schema.properties ? schema : (schema.anyOf?.find((each) => each.properties) ?? schema));

/**
 * Turns the issues of a failed parse into field errors: where (JSON Pointer), what was there, and what is allowed. `schema` is the one that
 * refused `body`: the ranges and the allowed keys are read from it. At most fifty errors.
 */
export function fieldErrors(error: z.core.$ZodError, body: unknown, schema: z.ZodType): FieldError[] {
  const root = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as JsonSchema;
  return error.issues.flatMap((issue) => told(issue, [], body, root)).slice(0, MOST_ERRORS);
}

export type Validated<T> = { ok: true; value: T } | { ok: false; errors: FieldError[] };

/** Checks a value against a schema: the parsed value with defaults filled in, or the field errors. */
export function validate<S extends z.ZodType>(schema: S, value: unknown): Validated<z.output<S>> {
  const parsed = schema.safeParse(value);
  return parsed.success ? { ok: true, value: parsed.data } : { ok: false, errors: fieldErrors(parsed.error, value, schema) };
}
