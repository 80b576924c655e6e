import { z } from 'zod';
import type { JsonSchema } from './words.ts';

/** `input`: what is posted (fields with a default may be left out); `output`: what is answered (they are always there). */
export type Direction = 'input' | 'output';
type Definitions = Record<string, JsonSchema>;

export interface Components {
  /** The schema as it stands in the document: a reference where it has a name of its own. */
  schema(schema: z.ZodType, direction: Direction): JsonSchema;
  /** Every named schema met so far, by name. */
  all(): Definitions;
}

/**
 * Gathers the named schemas of all uses. A schema that reads the same in both directions, all it refers to included, gets one name;
 * otherwise the posted form is called `<name>Input`.
 */
export function gatherComponents(uses: readonly { schema: z.ZodType; direction: Direction }[]): Components {
  const found: Record<Direction, Definitions> = { input: {}, output: {} };
  for (const { schema, direction } of uses) Object.assign(found[direction], convert(schema, direction).$defs);
  const twofold = namesThatDiffer(found.input, found.output);
  const nameOf = (name: string, direction: Direction) => (direction === 'input' && twofold.has(name) ? `${name}Input` : name);
  const placed = (schema: JsonSchema, direction: Direction) =>
    withReferences(schema, (name) => `#/components/schemas/${nameOf(name, direction)}`);
  return {
    schema: (schema, direction) => {
      const { $defs: _, ...root } = convert(schema, direction);
      return placed(root, direction);
    },
    all: () => {
      const entries = (['output', 'input'] as const).flatMap((direction) =>
        Object.entries(found[direction]).map(([name, schema]) => [nameOf(name, direction), placed(schema, direction)] as const),
      );
      return Object.fromEntries(entries.sort(([a], [b]) => (a < b ? -1 : 1)));
    },
  };
}

function convert(schema: z.ZodType, direction: Direction): JsonSchema {
  const { $schema: _, ...json } = z.toJSONSchema(schema, { io: direction, unrepresentable: 'any', override: tidy }) as JsonSchema;
  return json;
}

/** Leaves out what says nothing new: limits of safe integers, the pattern behind a named format; folds `or null` into the type. */
function tidy({ jsonSchema }: { jsonSchema: unknown }): void {
  const json = jsonSchema as JsonSchema;
  delete json['x-allowed'];
  if (json.minimum !== undefined && json.minimum <= Number.MIN_SAFE_INTEGER) delete json.minimum;
  if (json.maximum !== undefined && json.maximum >= Number.MAX_SAFE_INTEGER) delete json.maximum;
  if (json.format === 'uuid' || json.format === 'date-time') delete json.pattern;
  if (json.anyOf) json.anyOf = json.anyOf.flatMap((each) => (Object.keys(each).join() === 'anyOf' ? each.anyOf! : [each]));
  const [first, second] = json.anyOf ?? [];
  if (json.anyOf?.length === 2 && second.type === 'null' && typeof first.type === 'string' && !first.enum && !('const' in first)) {
    delete json.anyOf;
    Object.assign(json, { ...first, ...json, type: [first.type, 'null'] });
  }
}

/** A deep copy in which every reference to a definition is written anew. */
function withReferences(schema: JsonSchema, write: (name: string) => string): JsonSchema {
  const text = JSON.stringify(schema, (key, value) => (key === '$ref' ? write(String(value).slice('#/$defs/'.length)) : value));
  return JSON.parse(text) as JsonSchema;
}

/** Names whose two forms differ, directly or in something they refer to. */
function namesThatDiffer(input: Definitions, output: Definitions): Set<string> {
  const both = Object.keys(input).filter((name) => name in output);
  const differing = new Set(both.filter((name) => JSON.stringify(input[name]) !== JSON.stringify(output[name])));
  for (let before = -1; before !== differing.size; ) {
    before = differing.size;
    for (const name of both) {
      withReferences(input[name], (other) => {
        if (differing.has(other)) differing.add(name);
        return other;
      });
    }
  }
  return differing;
}
