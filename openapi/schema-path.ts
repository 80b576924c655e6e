import type { JsonSchema } from './words.ts';

/** Keys from the outside inwards. */
export type Path = readonly PropertyKey[];

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

/** The schema of what stands at a path below `from`, references followed; empty where the path leads to nothing known. */
export function schemaAt(from: JsonSchema, path: Path, root: JsonSchema): JsonSchema {
  let here: JsonSchema | undefined = from;
  for (const key of path) here = here && childOf(here, key, root);
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
