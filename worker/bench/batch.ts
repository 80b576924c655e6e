import { type BatchCase, type BatchMeasure, measureBatch } from './batch-run.ts';
import { onOwnDatabase } from './database.ts';
import { checksumOf, type Row } from './row.ts';

/** Points of each case and threads of the worker; another number by the variable of that name (`BATCH_FULL_POINTS=20`). */
const size = (name: string, usual: number): number => Number(process.env[name] ?? usual);
const THREADS = size('BATCH_THREADS', 2);
const GEOMETRY = size('BATCH_GEOMETRY_POINTS', 2000);
const FULL = size('BATCH_FULL_POINTS', 200);
const FEW = size('BATCH_FEW_POINTS', 2000);
const MANY = size('BATCH_MANY_POINTS', 20_000);

const NIGHT_S = 8 * 3600;
const NIGHT_AIM = 14_000;
const MOST_IDLE = 0.1;
/**
 * A collector may run a little later in one run than in another: as much as its young generation, 16 MB a thread and the main one. The highest moment
 * of a longer run is higher for the same reason, so what counts is the median.
 */
const SLACK_MB = 50;

/** Batches through the whole service: how busy they keep the cores, what a night holds, and the memory of a large one beside a small one. */
export async function batchRows(): Promise<Row[]> {
  const measured = (depth: BatchCase['depth'], points: number, threadFile: BatchCase['threadFile']) =>
    onOwnDatabase((databaseUrl) => measureBatch({ databaseUrl, depth, points, threads: THREADS, threadFile }));
  return [
    busyRow('geometry', GEOMETRY, await measured('geometry', GEOMETRY, 'timed-thread.js')),
    busyRow('full', FULL, await measured('full', FULL, 'timed-thread.js')),
    memoryRow(await measured('geometry', FEW, 'ready-thread.js'), await measured('geometry', MANY, 'ready-thread.js')),
  ];
}

function busyRow(depth: string, points: number, measure: BatchMeasure): Row {
  const { done, failed, wallMs, engine, processCpuMs, saidOverTrue } = measure;
  const perPoint = wallMs / points;
  const share = (ms: number) => ms / (wallMs * THREADS);
  const night = (NIGHT_S * 1000) / perPoint;
  // What a quiet machine of as many cores would hold: no more than the processor time allows.
  const quietNight = (NIGHT_S * 1000 * THREADS) / (processCpuMs / points);
  const isFull = depth === 'full';
  return {
    ...{ minMs: perPoint, medianMs: perPoint, maxMs: perPoint },
    name: `batch of ${depth} points, per point`,
    input: `${points} Sobol points round the training ball, one worker of ${THREADS} threads, embedded PostgreSQL with the queue in it; mean of all`,
    checksum: checksumOf([done, failed]),
    beside:
      `threads in the engine ${percent(share(engine.wallMs))} of the time by the clock (on a core ${percent(share(engine.cpuMs))}, held up by other ` +
      `programs ${percent(share(engine.waitedMs))}); processor time a point ${(processCpuMs / points).toFixed(0)} ms, of it ` +
      `${(engine.cpuMs / points).toFixed(0)} ms in the engine; time left, said half way, ${saidOverTrue.toFixed(2)} of what it was; extrapolated: ` +
      `${night.toFixed(0)} in eight hours at this pace, ${(night * 10).toFixed(0)} on ten such workers, ${quietNight.toFixed(0)} by the processor time alone`,
    asked: `both cores busy in the engine ${percent(1 - MOST_IDLE)} of the time${isFull ? `, ${NIGHT_AIM} in a night` : ''}`,
    met: share(engine.wallMs) >= 1 - MOST_IDLE && failed === 0 && (!isFull || night >= NIGHT_AIM),
  };
}

const percent = (share: number) => `${(100 * share).toFixed(0)} %`;

function memoryRow(few: BatchMeasure, many: BatchMeasure): Row {
  const [fewMs, manyMs] = [few.wallMs / FEW, many.wallMs / MANY];
  return {
    ...{ minMs: Math.min(fewMs, manyMs), medianMs: manyMs, maxMs: Math.max(fewMs, manyMs) },
    name: `memory of a batch of ${MANY} beside one of ${FEW}`,
    input: 'a worker whose threads answer at once; time per point',
    checksum: checksumOf([few.done, many.done]),
    beside: `in the second half mostly ${many.laterMb.toFixed(0)} MB beside ${few.laterMb.toFixed(0)} MB; at most ${many.peakMb.toFixed(0)} beside ${few.peakMb.toFixed(0)} MB`,
    asked: `no heavier (within ${SLACK_MB} MB)`,
    met: many.laterMb <= few.laterMb + SLACK_MB,
  };
}
