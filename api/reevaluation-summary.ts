import type { Drift, ReevaluationSummary } from '../openapi/index.ts';

const evaluations = (count: number): string => (count === 1 ? '1 evaluation' : `${count} evaluations`);

/** A re-evaluation in plain words: how far it is, and what moved. */
export function summaryOf(state: ReevaluationSummary, drift: Drift): string {
  const { engineVersion, counts, upToDate, selection } = state;
  if (counts.total === 0) {
    if (upToDate > 0)
      return `Nothing is left to do: engine ${engineVersion}, the present one, has computed ${what(upToDate)} of the selection.`;
    const by = selection.engineVersion ? ` that engine ${selection.engineVersion} computed` : '';
    return `Nothing is left to do: the selection has no finished evaluation${by}.`;
  }
  const far = `${drift.pairs} of ${evaluations(counts.total)} ${drift.pairs === 1 ? 'is' : 'are'} computed again by engine ${engineVersion}`;
  return drift.pairs === 0 ? `${far}.` : `${far}: ${[...movedOf(drift), ...endsOf(drift)].join('; ') || 'nothing moved'}.`;
}

const what = (count: number) => (count === 1 ? 'the 1 evaluation' : `all ${count} evaluations`);

function movedOf({ quantities }: Drift): string[] {
  const moved = quantities.filter((each) => each.moved > 0);
  if (moved.length === 0) return [];
  const size = ({ largest }: Drift['quantities'][number]) => Math.abs(largest?.changePct ?? 0);
  const most = moved.reduce((best, each) => (size(each) > size(best) ? each : best));
  const at = most.largest ? `, ${most.quantity} at most, by ${Number(most.largest.changePct.toPrecision(3))} %` : '';
  return [`${moved.length} of ${quantities.length} quantities moved${at}`];
}

function endsOf({ verdicts, newFailures, pastFailures }: Drift): string[] {
  const told = (count: number, one: string, many: string) => (count === 0 ? [] : [count === 1 ? one : `${count} ${many}`]);
  return [
    ...told(verdicts.count, '1 verdict changed', 'verdicts changed'),
    ...told(newFailures.count, '1 fails that did not before', 'fail that did not before'),
    ...told(pastFailures.count, '1 is done that failed before', 'are done that failed before'),
  ];
}
