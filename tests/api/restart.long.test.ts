import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { exampleRequest } from '../../openapi/examples.ts';
import { openClient, type StrutwrightClient } from '../../openapi/index.ts';
import { patientFetch } from './ask.ts';
import { databaseProcess, isAlive, type Started, startService } from './start-process.ts';

const POINTS = 400;
const THREADS = 2;

let dataDir: string;
let service: Started;
let client: StrutwrightClient;
beforeAll(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'strutwright-restart-'));
  await begin();
});
afterAll(async () => {
  await service.stop();
  await rm(dataDir, { recursive: true, force: true });
});

async function begin(): Promise<void> {
  service = await startService(dataDir, { WORKER_THREADS: String(THREADS) });
  client = openClient({ baseUrl: service.url, key: await readFile(join(dataDir, 'first-key'), 'utf8'), fetch: patientFetch });
}

/** Runs that the workers of one start told the end of. */
const endedRuns = ({ output }: Started) => [...output().matchAll(/"msg":"run ended"/g)].length;

test('service, worker and database are killed in the middle of a batch: after a new start every point is there once', async () => {
  const { parameterSet } = exampleRequest;
  const { data: posted } = await client.POST('/v1/batches', {
    body: {
      evaluation: {
        ...exampleRequest,
        parameterSet: { ...parameterSet!, tiling: { kind: 'goldberg', m: 1, n: 1 } },
        tests: { depth: 'geometry' },
      },
      vary: [{ path: 'layers.0.strutDiameterMm', from: 3, to: 6 }],
      sampling: { kind: 'sobol', points: POINTS, seed: 1 },
    },
  });
  const read = async () => (await client.GET('/v1/batches/{id}', { params: { path: { id: posted!.id } } })).data!;
  const until = async (isSo: (batch: Awaited<ReturnType<typeof read>>) => boolean) => {
    for (;;) {
      const batch = await read();
      if (isSo(batch)) return batch;
      await pause(200);
    }
  };
  const before = await until(({ counts }) => counts.done >= POINTS / 4);
  expect(before.counts.done).toBeLessThan(POINTS);
  const [database, killed] = [databaseProcess(dataDir)!, service];
  for (const pid of [...service.workers(), database]) process.kill(pid, 'SIGKILL');
  await service.stop('SIGKILL');
  while (isAlive(database)) await pause(50);

  await begin();
  const { counts } = await until(({ status }) => status === 'done');
  expect(counts).toMatchObject({ total: POINTS, done: POINTS, failed: 0, cancelled: 0, queued: 0, running: 0 });
  // What had been computed is not computed again; only what was under way, or not yet committed, in the moment of the kill.
  expect(endedRuns(killed)).toBeGreaterThanOrEqual(POINTS / 4);
  expect(endedRuns(killed) + endedRuns(service)).toBeLessThanOrEqual(POINTS + THREADS);
  const ids = new Set<string>();
  for (let cursor: string | null | undefined; cursor !== null; ) {
    const query = { batchId: posted!.id, limit: 200, ...(cursor && { cursor }) };
    const { data } = await client.GET('/v1/evaluations', { params: { query } });
    for (const { id, status } of data!.items) {
      expect(status).toBe('done');
      ids.add(id);
    }
    cursor = data!.nextCursor;
  }
  expect(ids.size).toBe(POINTS);
});
