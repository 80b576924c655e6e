import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import { type HeldUndertaking, inputHash } from '../prisma/index.ts';
import { type BatchInput, inputAt, settingsOf } from './batch-points.ts';
import type { Undertaking } from './conductor.ts';
import { type Point, type PointsOptions, pointsUndertaking } from './points.ts';

/** Batches: points of a grid or of samples; they begin again by the clock. */
export const batchUndertaking = (options: PointsOptions): Undertaking =>
  pointsUndertaking({ kind: 'batch', pointsOf, byTheClock: repeat }, options);

async function pointsOf({ record }: HeldUndertaking, from: number, count: number): Promise<Point[]> {
  const input = record.input as BatchInput;
  return Array.from({ length: count }, (_, k): Point => {
    const at = inputAt(input, settingsOf(input, from + k));
    if (!at.ok) return { errors: at.errors };
    const hash = inputHash(at.value);
    const asked = { engineVersion: ENGINE_VERSION, designId: null, versionId: null, whole: false };
    return { submission: { input: at.value, inputHash: hash, ...asked } };
  });
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
