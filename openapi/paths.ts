import { z } from 'zod';
import { parameterSet } from './parameter-set.ts';
import { type Path, schemaAt } from './schema-path.ts';
import { said } from './shown.ts';
import type { JsonSchema } from './words.ts';

/** The records of an evaluation that can be varied beside its parameter set. */
const RECORDS = ['material', 'buildVolume'];

export const variedPath = z
  .string()
  .max(120)
  .regex(/^[A-Za-z]+(?:\.[A-Za-z0-9]+)*$/, 'names and places in lists with dots between them, such as layers.0.strutDiameterMm')
  .meta({
    description: 'A dotted path relative to the parameter set, or `material` or `buildVolume`',
    examples: ['layers.0.strutDiameterMm', 'tiling', 'material'],
  });

/** What stands at a varied path in one point. A choice that is an object is merged into the object there. */
export const settingValue = z.union([z.number(), z.string().max(200), z.record(z.string(), z.unknown())]);
export const setting = z.strictObject({ path: variedPath, value: settingValue }).meta({ id: 'Setting' });
export type Setting = z.infer<typeof setting>;

/** What an evaluation is computed from, its parts still as they were given. */
export interface Variable {
  parameterSet: unknown;
  material: unknown;
  buildVolume: unknown;
}

const root = z.toJSONSchema(parameterSet, { io: 'input', unrepresentable: 'any' }) as JsonSchema;
const keysOf = (path: string): Path => path.split('.').map((key) => (/^\d+$/.test(key) ? Number(key) : key));
const isNumber = ({ type }: JsonSchema) => type === 'number' || type === 'integer';

/**
 * Why a path cannot be varied over these values in this parameter set: it leads nowhere, past the end of a list, or values between two numbers are asked for
 * where no number stands. null: it can.
 */
export function pathRefusal(path: string, set: unknown, { between }: { between: boolean }): string | null {
  if (RECORDS.includes(path)) return between ? `is ${said(path)}, which is no number; allowed: choices` : null;
  const keys = keysOf(path);
  const schema = schemaAt({ schema: root, value: undefined }, keys, root);
  if (Object.keys(schema).length === 0) {
    return `is ${said(path)}, which is not known; allowed: the path of a field of the parameter set, ${RECORDS.join(' or ')}`;
  }
  for (const [depth, key] of keys.entries()) {
    const list = valueAt(set, keys.slice(0, depth));
    if (typeof key !== 'number' || !Array.isArray(list) || key < list.length) continue;
    return `is ${said(path)}, but there are ${list.length} ${String(keys[depth - 1])}; allowed: places 0 to ${list.length - 1}`;
  }
  if (between && !isNumber(schema)) return `is ${said(path)}, which is no number; allowed: choices`;
  return null;
}

/** The input with every setting at its path; objects on the way are copied, nothing of the input is changed. */
export function withSettings<T extends Variable>(input: T, settings: readonly Setting[]): T {
  const varied = { ...input };
  for (const { path, value } of settings) {
    if (path === 'material' || path === 'buildVolume') varied[path] = value;
    else varied.parameterSet = withValue(varied.parameterSet, keysOf(path), value);
  }
  return varied;
}

function withValue(whole: unknown, [key, ...rest]: Path, value: unknown): unknown {
  if (key === undefined) return isObject(value) && isObject(whole) ? { ...whole, ...value } : value;
  if (Array.isArray(whole)) return whole.map((each, k) => (k === key ? withValue(each, rest, value) : each));
  return { ...(isObject(whole) ? whole : {}), [key]: withValue(isObject(whole) ? whole[key] : undefined, rest, value) };
}

const isObject = (value: unknown): value is Record<PropertyKey, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** What stands at a dotted path of a parameter set. */
export const settingAt = (set: unknown, path: string): unknown => valueAt(set, keysOf(path));

function valueAt(whole: unknown, path: Path): unknown {
  return path.reduce<unknown>((value, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key], whole);
}
