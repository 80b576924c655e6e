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
export function said(value: unknown): string {
  if (value === undefined) return 'missing';
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  if (typeof value === 'number') return String(value);
  if (typeof value === 'object' && value !== null) return 'an object';
  return JSON.stringify(shown(value));
}
