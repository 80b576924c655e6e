import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ResolvedInput } from '../../openapi/index.ts';
import { inputHash } from '../../prisma/index.ts';
import { sampleInput } from './samples.ts';

const input = sampleInput(160);

/** The same value with the members of every object in another order. */
function reversed<T>(value: T): T {
  if (Array.isArray(value)) return value.map(reversed) as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([name, member]) => [name, reversed(member)]),
  ) as T;
}

/** Every place where the input holds a number. */
function numberPaths(value: unknown, path: string[] = []): string[][] {
  if (typeof value === 'number') return [path];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, member]) => numberPaths(member, [...path, name]));
}

function withNumber(path: string[], change: (value: number) => number): ResolvedInput {
  const copy = structuredClone(input);
  const last = path.at(-1)!;
  const holder = path.slice(0, -1).reduce<Record<string, never>>((at, name) => at[name], copy as never);
  holder[last] = change(holder[last]) as never;
  return copy;
}

describe('the hash of an input', () => {
  test('is sha256 in hexadecimal, and does not depend on the order of members', () => {
    expect(inputHash(input)).toMatch(/^sha256:[0-9a-f]{64}$/);
    expect(inputHash(reversed(input))).toBe(inputHash(input));
  });

  test('depends on every number to its last bit, except a revision', () => {
    const paths = numberPaths(input);
    expect(paths.length).toBeGreaterThan(30);
    for (const path of paths) {
      const hash = inputHash(withNumber(path, (value) => value + Math.max(Math.abs(value), 1) * Number.EPSILON));
      expect([path.join('.'), hash === inputHash(input)]).toEqual([path.join('.'), path.at(-1) === 'revision']);
    }
  });

  test('does not depend on what the records are called and where their values come from', () => {
    const labels = fc.record({ key: fc.string(), revision: fc.integer(), source: fc.dictionary(fc.string(), fc.string()) });
    fc.assert(
      fc.property(labels, labels, (a, b) => {
        const { material, buildVolume } = input;
        expect(inputHash({ ...input, material: { ...material, ...a }, buildVolume: { ...buildVolume, ...b } })).toBe(inputHash(input));
      }),
    );
  });

  test('depends on the order of layers and targets, which has a meaning', () => {
    const targets = [
      { quantity: 'massG', max: 330 },
      { quantity: 'totalHours', max: 40 },
    ];
    const reference = { targets, source: '', edition: '', status: '', inflation: null, dropHeightMm: null, peakForceN: null };
    const swapped = { ...reference, targets: [...targets].reverse() };
    expect(inputHash({ ...input, reference })).not.toBe(inputHash({ ...input, reference: swapped }));
    expect(inputHash({ ...input, reference })).not.toBe(inputHash(input));
  });
});
