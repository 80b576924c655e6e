import type { Comparison, LeafDifference, Result } from '../openapi/index.ts';

type Leaf = LeafDifference['left'];

/** What items of a list may be named by, so that one more item in front does not make all others differ. */
const NAMES = ['id', 'quantity'];

/** The names of a list's items, when every item has one of its own. */
function itemNames(items: readonly unknown[]): string[] {
  for (const key of NAMES) {
    const names = items.map((item) => (item as Record<string, unknown> | null)?.[key]);
    if (names.every((name) => typeof name === 'string') && new Set(names).size === names.length) return names as string[];
  }
  return items.map((_, place) => String(place));
}

/** Every leaf below a value by its dotted path; undefined members are none. */
export function leavesOf(value: unknown, path: readonly string[] = [], leaves = new Map<string, Leaf>()): Map<string, Leaf> {
  if (Array.isArray(value)) {
    const names = itemNames(value);
    value.forEach((item, place) => void leavesOf(item, [...path, names[place]], leaves));
  } else if (typeof value === 'object' && value !== null) {
    for (const [key, member] of Object.entries(value)) leavesOf(member, [...path, key], leaves);
  } else if (value !== undefined) leaves.set(path.join('.'), value as Leaf);
  return leaves;
}

function told(path: string, left: Leaf, right: Leaf): LeafDifference {
  if (typeof left !== 'number' || typeof right !== 'number') return { path, left, right, change: null, changePct: null };
  const change = right - left;
  return { path, left, right, change, changePct: left === 0 ? null : (100 * change) / Math.abs(left) };
}

/** The leaves in which two values differ, in the order of the left one, then those that only the right one has; and how many are equal. */
export function difference(left: unknown, right: unknown): Comparison {
  const [lefts, rights] = [leavesOf(left), leavesOf(right)];
  const paths = [...new Set([...lefts.keys(), ...rights.keys()])];
  const differs = (path: string) => lefts.get(path) !== rights.get(path);
  const differing = paths.filter(differs).map((path) => told(path, lefts.get(path) ?? null, rights.get(path) ?? null));
  return { differing, equalCount: paths.length - differing.length };
}

/** The same of two results, without what tells runs and not lattices apart: the engine, and places, which are those of one lattice only. */
export const resultDifference = (left: Result, right: Result): Comparison => difference(comparable(left), comparable(right));

const comparable = ({ engine: _, printability, ...rest }: Result) => ({
  ...rest,
  printability: { ...printability, checks: printability.checks.map(({ where: __, ...check }) => check) },
});
