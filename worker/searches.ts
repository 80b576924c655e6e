import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import type { SearchFindings } from '../openapi/index.ts';
import { type EndedMember, type HeldUndertaking, inputHash, type Records } from '../prisma/index.ts';
import { inputAt } from './batch-points.ts';
import type { Undertaking } from './conductor.ts';
import { keyOf, type Point, type SearchEnd, type SearchProblem, search } from './engine/index.ts';
import type { WorkQueue } from './queue.ts';
import { findingsOf, type StoredTrial } from './search-findings.ts';
import { outcomeOf, problemOf, type SearchInput, settingsAt } from './search-points.ts';

export interface SearchOptions {
  records: Pick<Records, 'undertakings' | 'evaluations' | 'computations'>;
  queue: Pick<WorkQueue, 'add'>;
}

/**
 * What is stored of a search beside its members: what is shown, what each trial came to, so that results are read once, and the points under way, in the order
 * of their members: a later solver might ask for others.
 */
type SearchOutcome = SearchFindings & { trials: StoredTrial[]; underWay: Point[] };

/** Searches: each step replays the solver over what has ended, and begins the points that it asks for next. */
export function searchUndertaking({ records, queue }: SearchOptions): Undertaking {
  const { undertakings, evaluations, computations } = records;
  return {
    due: () => undertakings.due('search'),
    advance: async (id) => {
      for (let more = true; more; ) {
        let [teamId, cancelled] = ['', [] as string[]];
        more = false;
        const dispatch = await undertakings.advance(id, async (held) => {
          teamId = held.record.teamId;
          if (held.record.finishedAt) return;
          if (held.record.status === 'cancelled') cancelled = await stop(held);
          else more = await goOn(held);
        });
        for (const evaluationId of cancelled) await evaluations.cancel(teamId, evaluationId);
        if (dispatch.length > 0) await queue.add(dispatch, { urgency: 'search', teamOutstanding: await computations.outstanding(teamId) });
      }
    },
  };
}

/** Begins what the solver asks for, or ends; answers whether there may be more to do at once: what the history has is found already ended. */
async function goOn(held: HeldUndertaking): Promise<boolean> {
  const { record } = held;
  const input = record.input as SearchInput;
  const problem = problemOf(input, record.total);
  const trials = await trialsOf(held, problem);
  if (trials === null) return false;
  const { asked, end } = replay(problem, trials);
  const findings = findingsOf(input, { problem, trials, end });
  if (end) {
    await held.update({ status: 'done', outcome: { ...findings, trials, underWay: [] } satisfies SearchOutcome });
    return false;
  }
  const begun = underWay(held, problem).slice(trials.length - storedTrials(held).length);
  const keys = new Set(begun.map(keyOf));
  const fresh = asked.filter((point) => !keys.has(keyOf(point))).slice(0, record.total - record.begun);
  for (const point of fresh) await begin(held, point);
  const outcome: SearchOutcome = { ...findings, trials, underWay: [...begun, ...fresh] };
  await held.update({ outcome, status: record.status === 'queued' ? 'running' : undefined });
  return fresh.length > 0;
}

/** Ends it once nothing of it is under way; answers the evaluations to cancel before that. */
async function stop(held: HeldUndertaking): Promise<string[]> {
  if (held.open > 0) return held.openEvaluations();
  const { record } = held;
  const input = record.input as SearchInput;
  const problem = problemOf(input, record.total);
  const trials = (await trialsOf(held, problem)) ?? storedTrials(held);
  const outcome: SearchOutcome = { ...findingsOf(input, { problem, trials, end: 'cancelled' }), trials, underWay: [] };
  await held.update({ status: 'cancelled', outcome });
  return [];
}

async function begin(held: HeldUndertaking, point: Point): Promise<void> {
  const input = held.record.input as SearchInput;
  const at = inputAt(input, settingsAt(input, point));
  if (!at.ok) return held.refuse(at.errors);
  const hash = inputHash(at.value);
  return held.submit({ input: at.value, inputHash: hash, engineVersion: ENGINE_VERSION, designId: null, versionId: null });
}

const storedTrials = ({ record }: HeldUndertaking): StoredTrial[] => (record.outcome as SearchOutcome | null)?.trials ?? [];

/** Points whose members are not among the stored trials; those of a search that was stored before they were are what the solver asks for. */
function underWay(held: HeldUndertaking, problem: SearchProblem): Point[] {
  const before = storedTrials(held);
  const stored = (held.record.outcome as SearchOutcome | null)?.underWay;
  return stored ?? replay(problem, before).asked.slice(0, held.record.begun - before.length);
}

/** Everything tried so far, in the order it was asked for; null where nothing is new and something is still under way. */
async function trialsOf(held: HeldUndertaking, problem: SearchProblem): Promise<StoredTrial[] | null> {
  const before = storedTrials(held);
  const ended = (await held.ended(before.length)).filter(({ index }, k) => index === before.length + k);
  if (ended.length === 0 && held.record.begun > before.length) return null;
  const input = held.record.input as SearchInput;
  const points = underWay(held, problem);
  return [...before, ...ended.map((member, k) => trialOf(input, points[k], member))];
}

function trialOf(input: SearchInput, point: Point, { evaluationId, result }: EndedMember): StoredTrial {
  const { outcome, targets } = result ? outcomeOf(input, result) : { outcome: null, targets: [] };
  return { point, evaluationId, outcome, targets };
}

/** The solver over what is known: what it asks for beyond that, some of which may be under way; or its end. */
function replay(problem: SearchProblem, trials: readonly StoredTrial[]): { asked: Point[]; end: SearchEnd | null } {
  const known = new Map(trials.map(({ point, outcome }) => [keyOf(point), outcome]));
  const searching = search(problem);
  for (let turn = searching.next(); ; turn = searching.next(turn.value.map((point) => known.get(keyOf(point)) ?? null))) {
    if (turn.done) return { asked: [], end: turn.value };
    const asked = turn.value.filter((point) => !known.has(keyOf(point)));
    if (asked.length > 0) return { asked, end: null };
  }
}
