import { z } from 'zod';
import { FILTERABLE } from './quantities.ts';
import { result } from './result.ts';
import { type Path, schemaAt } from './schema-path.ts';
import { type JsonSchema, nameList } from './words.ts';

export const OPERATORS = ['gte', 'gt', 'lte', 'lt', 'eq'] as const;
export type Operator = (typeof OPERATORS)[number];

/** A bound on a number of a result that no index holds. */
export interface LeafFilter {
  /** Keys and places from the outside inwards. */
  path: readonly string[];
  op: Operator;
  value: number;
}

/** With more, what is asked is a table to export. */
const MOST_LEAVES = 5;
const NAME = new RegExp(`^([A-Za-z0-9]+(?:\\.[A-Za-z0-9]+)+)\\.(${OPERATORS.join('|')})$`);
const root = z.toJSONSchema(result, { io: 'output', unrepresentable: 'any' }) as JsonSchema;

const pathOf = (path: readonly string[]): Path => path.map((key) => (/^\d+$/.test(key) ? Number(key) : key));
const at = (path: readonly string[]) => schemaAt({ schema: root, value: undefined }, pathOf(path), root);
const kinds = (schema: JsonSchema): string[] => [schema, ...(schema.anyOf ?? [])].flatMap(({ type }) => type ?? []);
const isNumber = (schema: JsonSchema) => kinds(schema).some((each) => each === 'number' || each === 'integer');

/** Names below a place that lead on, or are numbers. */
const below = (path: readonly string[]): string[] => {
  const here = at(path);
  const members = [here, ...(here.anyOf ?? [])].flatMap(({ properties }) => Object.keys(properties ?? {}));
  return [...new Set(members)].filter((name) => {
    const each = at([...path, name]);
    return isNumber(each) || kinds(each).some((kind) => kind === 'object' || kind === 'array');
  });
};

/** Why a dotted path is no number of a result; null: it is one. */
function leafRefusal(path: readonly string[]): string | null {
  if (isNumber(at(path))) return null;
  let known = path.length - 1;
  while (known > 0 && Object.keys(at(path.slice(0, known))).length === 0) known--;
  const from = path.slice(0, known);
  if (kinds(at(from)).includes('array'))
    return `names no number of a result; allowed: a place such as ${[...from, '0'].join('.')}, and what stands there`;
  const names = below(from);
  return names.length > 0
    ? `names no number of a result; ${from.length > 0 ? `below ${from.join('.')} there are` : 'a path begins with'}: ${nameList(names)}`
    : `names no number of a result; ${from.join('.')} leads no further`;
}

/** The filters of a checked query that name a path, not a quantity. */
export function leafFiltersOf(query: Readonly<Record<string, unknown>>): LeafFilter[] {
  return Object.entries(query).flatMap(([key, value]) => {
    const found = NAME.exec(key);
    if (!found || Object.hasOwn(FILTERABLE, found[1])) return [];
    return [{ path: found[1].split('.'), op: found[2] as Operator, value: Number(value) }];
  });
}

/** Lets a query also bound any number of a result by its dotted path: `balance.radialRunoutMm.lte=0.5`. Everything else unknown is refused as before. */
export function withLeaves<S extends z.ZodObject>(schema: S): S {
  const open = schema.catchall(z.unknown()).superRefine((query, context) => {
    const others = Object.keys(query).filter((key) => !Object.hasOwn(schema.shape, key));
    const leaves = others.filter((key) => NAME.test(key));
    const unknown = others.filter((key) => !NAME.test(key));
    if (unknown.length > 0) context.addIssue({ code: 'unrecognized_keys', keys: unknown, input: query });
    const issue = (key: string, message: string) => context.addIssue({ code: 'custom', path: [key], input: query[key], message });
    for (const key of leaves) {
      const refusal = leafRefusal(NAME.exec(key)![1].split('.'));
      if (refusal) issue(key, refusal);
      else if (!isDecimal(query[key])) issue(key, 'allowed: a number');
    }
    if (leaves.length > MOST_LEAVES)
      issue(leaves[MOST_LEAVES], `is one of ${leaves.length} bounds on paths; allowed: at most ${MOST_LEAVES}`);
  });
  // what is known stays typed; the others are read by leafFiltersOf
  return open.meta(schema.meta() ?? {}) as unknown as S;
}

const isDecimal = (value: unknown): boolean => typeof value === 'string' && value.trim() !== '' && Number.isFinite(Number(value));
