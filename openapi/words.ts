/** The part of JSON Schema that our zod schemas produce. */
export interface JsonSchema {
  type?: string | string[];
  description?: string;
  enum?: unknown[];
  const?: unknown;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  exclusiveMaximum?: number;
  minLength?: number;
  maxLength?: number;
  pattern?: string;
  format?: string;
  minItems?: number;
  maxItems?: number;
  items?: JsonSchema;
  prefixItems?: JsonSchema[];
  properties?: Record<string, JsonSchema>;
  required?: string[];
  additionalProperties?: boolean | JsonSchema;
  propertyNames?: JsonSchema;
  anyOf?: JsonSchema[];
  oneOf?: JsonSchema[];
  allOf?: JsonSchema[];
  $ref?: string;
  $defs?: Record<string, JsonSchema>;
  'x-allowed'?: string;
  [key: string]: unknown;
}

const FORMATS: Record<string, string> = { uuid: 'a UUID', 'date-time': 'a time in UTC such as 2027-01-31T12:00:00Z', uri: 'a URI' };
const LONGEST_LIST = 30;

/** Names in a row, at most thirty. */
export const nameList = (names: readonly string[]): string =>
  names.length > LONGEST_LIST ? `${names.slice(0, LONGEST_LIST).join(', ')} and ${names.length - LONGEST_LIST} more` : names.join(', ');

/** "greater than 0, at most 100"; empty when there is no bound. */
export function rangeWords(schema: JsonSchema): string {
  const bounds = [
    schema.exclusiveMinimum !== undefined && `greater than ${schema.exclusiveMinimum}`,
    isBound(schema.minimum) && `at least ${schema.minimum}`,
    schema.exclusiveMaximum !== undefined && `less than ${schema.exclusiveMaximum}`,
    isBound(schema.maximum) && `at most ${schema.maximum}`,
  ];
  return bounds.filter(Boolean).join(', ');
}

/** The safe-integer limits of a whole number are no news to anybody. */
const isBound = (limit: number | undefined): limit is number => limit !== undefined && Math.abs(limit) < Number.MAX_SAFE_INTEGER;

const between = (least: number | undefined, most: number | undefined, noun: string): string => {
  if (least !== undefined && least === most) return `exactly ${least} ${noun}`;
  if (least && most !== undefined) return `${least} to ${most} ${noun}`;
  if (least) return `at least ${least} ${noun}`;
  return most === undefined ? noun : `at most ${most} ${noun}`;
};

/** What a schema allows, in plain words: kind, range or values. `x-allowed` on the schema says it better where it is present. */
export function allowedWords(schema: JsonSchema): string {
  if (schema['x-allowed']) return schema['x-allowed'];
  const branches = schema.anyOf ?? schema.oneOf;
  if (branches) return [...new Set(branches.map(allowedWords))].join(', or ');
  if (Array.isArray(schema.type)) return schema.type.map((type) => allowedWords({ ...schema, type })).join(', or ');
  if (schema.enum) return schema.enum.map((each) => JSON.stringify(each)).join(', ');
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  switch (schema.type) {
    case 'number':
    case 'integer':
      return [schema.type === 'integer' ? 'a whole number' : 'a number', rangeWords(schema)].filter(Boolean).join(', ');
    case 'string':
      return FORMATS[schema.format ?? ''] ?? `text of ${between(schema.minLength, schema.maxLength, 'characters')}`;
    case 'array': {
      const count = schema.prefixItems?.length;
      const item = schema.prefixItems?.[0] ?? schema.items;
      const each = item?.type && item.type !== 'object' && item.type !== 'array' ? `, each ${allowedWords(item)}` : '';
      return `a list of ${between(count ?? schema.minItems, count ?? schema.maxItems, 'items')}${each}`;
    }
    case 'object':
      return schema.properties ? `an object with ${keyWords(schema)}` : 'an object';
    case 'null':
      return 'null';
    case 'boolean':
      return 'true, false';
    default:
      return 'a value of another kind';
  }
}

/** The keys an object may have; of a union, those of its first branch that is an object. */
export const keyWords = (schema: JsonSchema): string => schema['x-allowed'] ?? nameList(Object.keys(propertiesOf(schema) ?? {}));

function propertiesOf(schema: JsonSchema): JsonSchema['properties'] {
  if (schema.properties) return schema.properties;
  return (schema.anyOf ?? []).map(propertiesOf).find((properties) => properties !== undefined);
}
