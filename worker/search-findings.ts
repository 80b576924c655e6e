import { type ParameterSet, type SearchFindings, type SearchRankingRow, type TargetResult, withSettings } from '../openapi/index.ts';
import {
  conflictOf,
  meetsAll,
  missOf,
  ranked,
  type SearchEnd,
  type SearchProblem,
  sensitivities,
  type Trial,
  verdict,
} from './engine/index.ts';
import { type SearchInput, settingsAt, shownSettings } from './search-points.ts';

/** A point that was tried, and the evaluation that tells what came of it; null: refused. */
export interface StoredTrial extends Trial {
  readonly evaluationId: string | null;
  readonly targets: readonly TargetResult[];
}

const MOST_ROWS = 50;

/** What there is to tell of the trials so far; `end`: that is all of it. */
export function findingsOf(
  input: SearchInput,
  { problem, trials, end }: { problem: SearchProblem; trials: readonly StoredTrial[]; end: SearchEnd | 'cancelled' | null },
): SearchFindings {
  const known = ranked(problem, trials).filter(({ outcome, evaluationId }) => outcome !== null && evaluationId !== null);
  const ranking = known.slice(0, MOST_ROWS).map((trial) => rowOf(input, problem, trial));
  const best = known.length > 0 ? bestOf(input, ranking[0], known[0]) : null;
  if (end === null) return { best, ranking, ...UNKNOWN, endedBy: null, verdict: soFar(problem, trials.length, ranking[0]) };
  if (end === 'cancelled')
    return { best, ranking, ...UNKNOWN, endedBy: end, verdict: `Cancelled. ${soFar(problem, trials.length, ranking[0])}` };
  const conflict = conflictOf(problem, end) as SearchFindings['conflict'];
  const found = { sensitivities: sensitivities(problem, end), conflict, endedBy: end.reason };
  return { best, ranking, ...found, verdict: verdict(problem, end, conflict) };
}

const UNKNOWN = { sensitivities: [], conflict: null };

function rowOf(input: SearchInput, problem: SearchProblem, { point, outcome, evaluationId }: StoredTrial): SearchRankingRow {
  const { values, printable } = outcome!;
  const miss = Math.max(0, ...[...problem.targets, ...problem.limits].map((each) => missOf(each, values[each.quantity])));
  return {
    ...{ evaluationId: evaluationId!, settings: shownSettings(settingsAt(input, point)), meetsAll: meetsAll(problem, outcome) },
    ...{ printable, missPct: Number.isFinite(miss) ? 100 * miss : null, values },
  };
}

function bestOf(input: SearchInput, row: SearchRankingRow, { point, targets }: StoredTrial): SearchFindings['best'] {
  const { evaluationId, settings, meetsAll: meets } = row;
  const parameterSet = withSettings(input.evaluation, settingsAt(input, point)).parameterSet as ParameterSet;
  return { parameterSet, settings, evaluationId, meetsAll: meets, targets: [...targets] };
}

function soFar({ budget }: SearchProblem, tried: number, best: SearchRankingRow | undefined): string {
  const told = `${tried} of at most ${budget} parameter sets are evaluated`;
  if (!best) return `${told}.`;
  if (best.meetsAll) return `${told}; one meets every target.`;
  if (best.missPct === null) return `${told}; none has a value for every target.`;
  const misses = best.missPct > 0 ? `misses a target by ${Number(best.missPct.toPrecision(3))} %` : 'fails its printability checks';
  return `${told}; the nearest ${misses}.`;
}
