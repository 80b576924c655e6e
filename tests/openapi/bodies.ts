import { exampleParameterSet, exampleRequest } from '../../openapi/examples.ts';
import type { ParameterSet } from '../../openapi/index.ts';

/** The league's ball, free to be changed. */
export const ball = (): ParameterSet => structuredClone(exampleParameterSet);
export const request = () => structuredClone(exampleRequest);

/** Every path to a leaf or a branch of a value. */
export function pathsOf(value: unknown, base: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return [base];
  const keys = Array.isArray(value) ? value.map((_, k) => k) : Object.keys(value);
  return [base, ...keys.flatMap((key) => pathsOf((value as Record<string | number, unknown>)[key], [...base, key]))];
}

/** A copy in which the value at a path is another one; undefined takes it away. */
export function withValue<T>(root: T, path: readonly (string | number)[], value: unknown): unknown {
  if (path.length === 0) return value;
  const copy = structuredClone(root);
  let here = copy as Record<string | number, unknown>;
  for (const key of path.slice(0, -1)) here = here[key] as Record<string | number, unknown>;
  const last = path.at(-1)!;
  if (value === undefined && !Array.isArray(here)) delete here[last];
  else here[last] = value;
  return copy;
}
