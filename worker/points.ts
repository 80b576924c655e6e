import type { FieldError } from '../openapi/index.ts';
import type { HeldUndertaking, Records, Submission, UndertakingKind } from '../prisma/index.ts';
import type { Undertaking } from './conductor.ts';
import type { WorkQueue } from './queue.ts';

export interface PointsOptions {
  records: Pick<Records, 'undertakings' | 'evaluations' | 'computations'>;
  queue: Pick<WorkQueue, 'add'>;
}

/** What is evaluated at a point, or why it is refused. */
export type Point = { submission: Submission } | { errors: FieldError[] };

/** An undertaking whose points are known when it is asked for. */
export interface Points {
  kind: UndertakingKind;
  /** So many points from an index on. */
  pointsOf(held: HeldUndertaking, from: number, count: number): Promise<Point[]>;
  /** What is done by the clock before each step. */
  byTheClock?(held: HeldUndertaking): Promise<void>;
}

/** Members under way at once: enough for every thread of several workers between two steps, and no more however many points there are. */
const WINDOW = 96;
/** Points begun in one step, so that its transaction stays short. */
const AT_ONCE = 24;
/** Steps before others get their turn: points that were computed before end as they begin, so a batch of them would never pause. */
const STEPS = 8;

/** Begins points as workers get to them, stops where that is asked for, ends when the last one has ended. */
export function pointsUndertaking(points: Points, { records, queue }: PointsOptions): Undertaking {
  const { undertakings, evaluations, computations } = records;
  return {
    due: () => undertakings.due(points.kind),
    advance: async (id) => {
      let more = true;
      for (let steps = 0; more && steps < STEPS; steps++) {
        let [teamId, cancelled] = ['', [] as string[]];
        more = false;
        const dispatch = await undertakings.advance(id, async (held) => {
          teamId = held.record.teamId;
          await points.byTheClock?.(held);
          if (isOver(held)) cancelled = await end(held);
          else more = await begin(held, points);
        });
        for (const evaluationId of cancelled) await evaluations.cancel(teamId, evaluationId);
        if (dispatch.length > 0) await queue.add(dispatch, { urgency: 'batch', teamOutstanding: await computations.outstanding(teamId) });
      }
      return more;
    },
  };
}

const isOver = ({ record: { status, finishBy }, now }: HeldUndertaking): boolean =>
  status === 'cancelled' || status === 'done' || (finishBy !== null && finishBy <= now);

/** Ends it once nothing that only it waits for is under way; answers the evaluations to cancel before that. */
async function end(held: HeldUndertaking): Promise<string[]> {
  const { record, open } = held;
  if (record.finishedAt) return [];
  const alone = open > 0 ? await held.openEvaluations() : [];
  if (alone.length > 0) return alone;
  await held.letGo();
  await held.update({ status: record.status === 'cancelled' ? 'cancelled' : 'done' });
  return [];
}

/** Begins as many points as the window has room for; answers whether there is room for more. */
async function begin(held: HeldUndertaking, { pointsOf }: Points): Promise<boolean> {
  const { record, open } = held;
  if (record.status === 'paused') return false;
  if (record.status === 'queued') await held.update({ status: 'running' });
  const room = Math.max(0, Math.min(WINDOW - open, AT_ONCE, record.total - record.begun));
  for (const point of await pointsOf(held, record.begun, room)) {
    if ('errors' in point) await held.refuse(point.errors);
    else await held.submit(point.submission);
  }
  if (record.begun + room === record.total && open + room === 0) await held.update({ status: 'done' });
  return room === AT_ONCE;
}
