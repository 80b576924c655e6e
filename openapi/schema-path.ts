import type { JsonSchema } from './words.ts';

/** Keys from the outside inwards. */
export type Path = readonly PropertyKey[];

/** A schema with what stands there. */
interface Place {
  schema: JsonSchema;
  value: unknown;
}

/**
 * Follows references, then one step down; of several branches the first that has such a member. Where a member with a fixed value tells branches
 * apart, the one that the value is of is meant; where it is of none, that member may have the fixed value of any.
 */
function childOf({ schema, value }: Place, key: PropertyKey, root: JsonSchema): JsonSchema | undefined {
  const here = dereferenced(schema, root);
  const branches = (here.anyOf ?? here.oneOf ?? here.allOf ?? []).map((each) => dereferenced(each, root));
  const fixed = branches.map((branch) => branch.properties?.[String(key)]?.const).filter((each) => each !== undefined);
  if (fixed.length > 1) return { enum: fixed };
  for (const branch of [...branches.filter((each) => isOf(each, value)), ...branches]) {
    const found = childOf({ schema: branch, value }, key, root);
    if (found) return found;
  }
  if (typeof key === 'number') return here.prefixItems?.[key] ?? here.items;
  if (here.properties && Object.hasOwn(here.properties, key)) return here.properties[String(key)];
  return typeof here.additionalProperties === 'object' ? here.additionalProperties : undefined;
}

/** Whether a value has the fixed values of a branch, of which there are some. */
function isOf({ properties = {} }: JsonSchema, value: unknown): boolean {
  const fixed = Object.entries(properties).filter(([, member]) => member.const !== undefined);
  return fixed.length > 0 && fixed.every(([name, member]) => memberOf(value, name) === member.const);
}

const memberOf = (value: unknown, key: PropertyKey): unknown =>
  typeof value === 'object' && value !== null && Object.hasOwn(value, key) ? (value as Record<PropertyKey, unknown>)[key] : undefined;

function dereferenced(schema: JsonSchema, root: JsonSchema): JsonSchema {
  const name = schema.$ref?.match(/^#\/\$defs\/(.+)$/)?.[1];
  if (name) return dereferenced(root.$defs?.[name] ?? {}, root);
  return schema.$ref === '#' ? root : schema;
}

/** The schema of what stands at a path below `from`, references followed; empty where the path leads to nothing known. */
export function schemaAt(from: Place, path: Path, root: JsonSchema): JsonSchema {
  let [here, value]: [JsonSchema | undefined, unknown] = [from.schema, from.value];
  for (const key of path) {
    here = here && childOf({ schema: here, value }, key, root);
    value = memberOf(value, key);
  }
  return here ? withBranches(here, root) : {};
}

/** A union with its branches in one row, in the order they are tried, references followed: each may have to be told in words. */
function withBranches(schema: JsonSchema, root: JsonSchema): JsonSchema {
  const here = dereferenced(schema, root);
  const branches = here.anyOf ?? here.oneOf;
  if (!branches) return here;
  const row = branches.map((each) => withBranches(each, root));
  return { ...here, anyOf: row.flatMap((each) => each.anyOf ?? [each]) };
}
