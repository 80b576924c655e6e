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

/** The schema of what stands at a path below `root`, references followed; empty where the path leads to nothing known. */
export function schemaAt(root: JsonSchema, path: Path): JsonSchema {
  let here: JsonSchema | undefined = root;
  for (const key of path) here = here && childOf(here, key, root);
  return here ? withBranches(dereferenced(here, root), root) : {};
}

/** A branch of a union is described in words too, so its references are followed as well. */
function withBranches(schema: JsonSchema, root: JsonSchema): JsonSchema {
  const branches = schema.anyOf ?? schema.oneOf;
  return branches ? { ...schema, anyOf: branches.map((each) => withBranches(dereferenced(each, root), root)) } : schema;
}
