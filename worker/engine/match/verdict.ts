import { type Conflict, conflictOf, type OutOfReach } from './conflict.ts';
import { bandOf, missOf } from './misses.ts';
import type { SearchProblem } from './problem.ts';
import type { SearchEnd } from './search.ts';

/** The end of a search in plain words. */
export function verdict(problem: SearchProblem, end: SearchEnd, why = conflictOf(problem, end)): string {
  const { ranking, trials, reason } = end;
  const tried = `${trials.length} parameter set${trials.length === 1 ? ' was' : 's were'} evaluated`;
  const best = ranking[0]?.outcome;
  if (!best) return `${tried}; none could be evaluated to its end, so nothing can be said about the targets.`;
  const wanted = [...problem.targets, ...problem.limits];
  if (reason === 'met') {
    const worth = best.values[problem.objective];
    return `Every target is met; ${tried}. The best by ${problem.objective} comes to ${said(worth)}${sinceFirst(problem, end)}.`;
  }
  const missed = wanted.filter((each) => missOf(each, best.values[each.quantity]) > 0);
  const nearest = missed.map((each) => `${each.quantity} ${said(best.values[each.quantity])} instead of ${bandWords(each)}`);
  const closest =
    missed.length > 0
      ? `The nearest set has ${nearest.join(', ')}.`
      : 'The nearest set meets the targets, but fails its printability checks.';
  const because = reasonOf(problem, end, why);
  return `No set meets every target; ${tried}${reason === 'budget' ? ', as many as were allowed' : ''}. ${closest}${because ? ` ${because}` : ''}`;
}

/** How far the objective has come since the first solution. */
function sinceFirst({ objective }: SearchProblem, { first, ranking }: SearchEnd): string {
  const [before, after] = [first, ranking[0]].map((each) => each?.outcome?.values[objective] ?? null);
  if (before === null || after === null) return '';
  const pct = (100 * Math.abs(after - before)) / Math.abs(before);
  return pct < 0.05
    ? ', no better than that of the first set that met them'
    : `, ${shown(pct, 2)} % ${after < before ? 'less' : 'more'} than that of the first set that met them`;
}

function reasonOf(problem: SearchProblem, end: SearchEnd, found: OutOfReach | Conflict | null): string {
  const wanted = [...problem.targets, ...problem.limits];
  const words = (quantity: string) => bandWords(wanted.find((each) => each.quantity === quantity)!);
  if (!found) {
    const rest =
      end.reason === 'budget'
        ? 'more evaluations may find one'
        : 'no step from there came nearer, but another start or other bounds may find one';
    return end.around.length > 0 ? `The slopes at the nearest set forbid none of them: ${rest}.` : '';
  }
  if (found.kind === 'out-of-reach') {
    const at = found.atBounds.length > 0 ? ` with ${found.atBounds.join(' and ')} at a bound` : '';
    return `${found.quantity} is out of reach: by the slopes at the nearest set it comes to about ${shown(found.nearest)}${at}, wanted is ${words(found.quantity)}.`;
  }
  const [first, second] = found.quantities;
  return (
    `${first} and ${second} forbid each other: by the slopes at the nearest set, where ${first} and the rest are as wanted, ${second} is about ${shown(found.secondWhereFirstIsMet)} ` +
    `(wanted ${words(second)}), and where ${second} and the rest are, ${first} is about ${shown(found.firstWhereSecondIsMet)} (wanted ${words(first)}).`
  );
}

function bandWords(target: Parameters<typeof bandOf>[0]): string {
  const { low, high } = bandOf(target);
  if (!Number.isFinite(low)) return `at most ${shown(high)}`;
  return Number.isFinite(high) ? `${shown(low)} to ${shown(high)}` : `at least ${shown(low)}`;
}

const said = (value: number | null | undefined): string => (value === null || value === undefined ? 'without a value' : shown(value));
const shown = (value: number, digits = 4): string => Number(value.toPrecision(digits)).toString();
