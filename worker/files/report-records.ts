import type { ResolvedInput } from '../../openapi/evaluation.ts';
import { label } from '../../openapi/field-words.ts';
import { escaped, pairs, shown, table } from './html.ts';

type Leaf = readonly [path: readonly string[], value: string];

/** Every value that is given, in words, with its path; lists of numbers and money as one. */
function leavesOf(value: unknown, path: readonly string[] = []): Leaf[] {
  if (value === null || value === undefined) return [];
  if (typeof value === 'number') return [[path, shown(value)]];
  if (typeof value !== 'object') return [[path, String(value)]];
  if (Array.isArray(value) && value.every((each) => typeof each !== 'object'))
    return [[path, value.map((each) => leavesOf(each)[0]?.[1] ?? '–').join(', ')]];
  const { amount, currency } = value as { amount?: unknown; currency?: unknown };
  if (typeof amount === 'number' && typeof currency === 'string') return [[path, `${shown(amount)} ${currency}`]];
  return Object.entries(value).flatMap(([name, each]) => leavesOf(each, [...path, name]));
}

/** "layers 0: depth, mm". */
function named(path: readonly string[]): string {
  const { name, unit } = label(path.at(-1)!);
  const before = path.slice(0, -1).map((part) => label(part).name);
  return [before.join(' '), [name, unit].filter(Boolean).join(', ')].filter(Boolean).join(': ');
}

interface Kept {
  readonly key: string;
  readonly revision?: number;
  readonly source?: unknown;
}

/** A record: its numbers, each with where it is from. */
function recordOf(title: string, { key, revision, source, ...values }: Kept): string {
  const from = (path: readonly string[]) =>
    String((typeof source === 'object' && (source as Record<string, unknown> | null)?.[path[0]]) || '');
  const rows = leavesOf(values).map(([path, value]) => [named(path), value, from(path)]);
  return `<h3>${escaped(`${title}: ${key}${revision === undefined ? '' : `, revision ${revision}`}`)}</h3>${table(['', 'value', 'source'], rows)}`;
}

/** What was asked for, and the records it was computed from. */
export function recordsOf({ parameterSet, material, buildVolume, reference, tests, build }: ResolvedInput): string {
  const asked = leavesOf({ ...parameterSet, tests, build }).map(([path, value]) => [named(path), value] as const);
  return [
    '<div class="records">',
    `<h3>Parameter set and tests</h3>${pairs(asked)}`,
    recordOf('Material', material as Kept),
    recordOf('Build volume', buildVolume as Kept),
    reference
      ? `<h3>${escaped(`Reference: ${(reference as Kept).key}`)}</h3><p>${escaped([reference.source, reference.edition].filter(Boolean).join('; '))}</p>`
      : '',
    '</div>',
  ].join('\n');
}
