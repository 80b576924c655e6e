import {
  type FreeParameter,
  type InlineReference,
  type ParameterSet,
  type ResolvedInput,
  type Result,
  type SearchConstraints,
  type SearchRequest,
  type Setting,
  settingAt,
  type TargetResult,
  type Variable,
} from '../openapi/index.ts';
import { compareTargets, type Outcome, type Point, type SearchProblem } from './engine/index.ts';

/** A search as it is stored: every key replaced by its record. */
export interface SearchInput {
  evaluation: Variable & Pick<ResolvedInput, 'reference' | 'tests' | 'build'>;
  free: FreeParameter[];
  constraints: SearchConstraints;
  objective: string;
  /** Missing in those stored before there was a choice, as is `until`. */
  rank?: SearchRequest['rank'];
  until?: SearchRequest['until'];
}

const isNumber = (free: FreeParameter): free is FreeParameter & { min: number; max: number } => free.choices === undefined;

/** The search that the engine is to make of it, within so many evaluations. */
export function problemOf({ evaluation, free, constraints, objective, rank, until }: SearchInput, budget: number): SearchProblem {
  const set = evaluation.parameterSet as ParameterSet;
  return {
    numbers: free.filter(isNumber).map(({ path, min, max, step, start }) => {
      const there = settingAt(set, path);
      const from = start ?? (typeof there === 'number' ? there : (min + max) / 2);
      return { path, min, max, step, start: Math.min(max, Math.max(min, from)) };
    }),
    choices: free.filter((each) => !isNumber(each)).map(({ choices = [] }) => choices.length),
    ...{ targets: (evaluation.reference as InlineReference).targets, limits: constraints.limits, printable: constraints.printable },
    ...{ objective, mostFirst: rank === 'most-first', settles: until === 'objective-settled', budget },
    diameters: set.layers.length + (set.links.pattern === 'none' ? 0 : 1),
  };
}

/** The values of a point at the free paths. */
export function settingsAt({ free }: Pick<SearchInput, 'free'>, { choices, numbers }: Point): Setting[] {
  let [choice, number] = [0, 0];
  return free.map((each) => ({ path: each.path, value: isNumber(each) ? numbers[number++] : each.choices![choices[choice++]] }));
}

/** The same as it is shown: records by their keys. */
export const shownSettings = (settings: readonly Setting[]): Setting[] =>
  settings.map(({ path, value }) => {
    const record = path === 'material' || path === 'buildVolume';
    return { path, value: record && typeof value === 'object' && typeof value.key === 'string' ? value.key : value };
  });

/** What the search wants to know of a result, and how it stands to the targets. */
export function outcomeOf(
  { evaluation, constraints, objective }: SearchInput,
  result: Result,
): { outcome: Outcome; targets: TargetResult[] } {
  const targets = compareTargets(result, (evaluation.reference as InlineReference).targets);
  const others = compareTargets(result, [...constraints.limits, { quantity: objective, target: 0 }]);
  const values = Object.fromEntries([...targets, ...others].map(({ quantity, value }) => [quantity, value]));
  return { outcome: { values, printable: result.printability.verdict !== 'fail' }, targets };
}
