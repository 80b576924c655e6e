import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import { type HeldUndertaking, inputHash, type Records } from '../prisma/index.ts';
import { type BatchInput, inputAt, settingsOf } from './batch-points.ts';
import type { Undertaking } from './conductor.ts';
import type { WorkQueue } from './queue.ts';

export interface BatchOptions {
  records: Pick<Records, 'undertakings' | 'evaluations' | 'computations'>;
  queue: Pick<WorkQueue, 'add'>;
}

/** Members under way at once: enough for every thread of several workers between two steps, and no more however many points there are. */
const WINDOW = 96;
/** Points begun in one step, so that its transaction stays short. */
const AT_ONCE = 24;
/** Steps before others get their turn: points that were computed before end as they begin, so a batch of them would never pause. */
const STEPS = 8;

/** Batches: begins points as workers get to them, stops where that is asked for, ends when the last one has ended, begins again by the clock. */
export function batchUndertaking({ records, queue }: BatchOptions): Undertaking {
  const { undertakings, evaluations, computations } = records;
  return {
    due: () => undertakings.due('batch'),
    advance: async (id) => {
      let more = true;
      for (let steps = 0; more && steps < STEPS; steps++) {
        let [teamId, cancelled] = ['', [] as string[]];
        more = false;
        const dispatch = await undertakings.advance(id, async (held) => {
          teamId = held.record.teamId;
          await repeat(held);
          if (isOver(held)) cancelled = await end(held);
          else more = await begin(held);
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
async function begin(held: HeldUndertaking): Promise<boolean> {
  const { record, open } = held;
  if (record.status === 'paused') return false;
  if (record.status === 'queued') await held.update({ status: 'running' });
  const input = record.input as BatchInput;
  const room = Math.min(WINDOW - open, AT_ONCE, record.total - record.begun);
  for (let k = 0; k < room; k++) {
    const at = inputAt(input, settingsOf(input, record.begun + k));
    if (!at.ok) await held.refuse(at.errors);
    else {
      const submission = {
        input: at.value,
        inputHash: inputHash(at.value),
        engineVersion: ENGINE_VERSION,
        designId: null,
        versionId: null,
      };
      await held.submit(submission);
    }
  }
  if (record.begun + room === record.total && open + room === 0) await held.update({ status: 'done' });
  return room === AT_ONCE;
}

/** By the clock: the same once more, from now on; what has not changed since is not computed again. */
async function repeat(held: HeldUndertaking): Promise<void> {
  const { record, now } = held;
  const { repeatAt, finishBy, createdAt, startAt } = record;
  if (!repeatAt || repeatAt > now || record.status === 'cancelled') return;
  const { repeat } = record.input as BatchInput & { repeat: { everyHours: number; until: string } };
  const next = new Date(now.getTime() + repeat.everyHours * 3_600_000);
  const length = finishBy && finishBy.getTime() - (startAt ?? createdAt).getTime();
  await held.again({
    input: record.input,
    finishBy: length === null ? null : new Date(now.getTime() + length),
    repeatAt: next <= new Date(repeat.until) ? next : null,
  });
  await held.update({ repeatAt: null });
}
