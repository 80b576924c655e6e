import pg from 'pg';
import { expect, test, vi } from 'vitest';
import { CHANNELS } from '../../openapi/index.ts';
import { listen } from '../../prisma/index.ts';
import { recordsOfThisFile } from './open.ts';
import { newTeam, sampleResult, sampleSubmission } from './samples.ts';

const here = recordsOfThisFile();

test('changes and requests to cancel are told with the id of the computation', async () => {
  const { evaluations, computations } = here.records;
  const { databaseUrl } = here;
  const told: string[] = [];
  const listeners = await Promise.all(
    Object.entries(CHANNELS).map(([name, channel]) =>
      listen({ databaseUrl, channel, handler: (payload) => void told.push(`${name} ${payload}`) }),
    ),
  );
  const team = await newTeam(here.records);
  const one = (await evaluations.submit(team, sampleSubmission(100))).evaluation;
  const two = (await evaluations.submit(team, sampleSubmission(101))).evaluation;
  await computations.claim(one.computationId, 'a');
  await computations.progress(one.computationId, { stage: 'mass', progressPct: 30 });
  await computations.finish(one.computationId, { result: sampleResult(), files: [] });
  await evaluations.cancel(team, two.id);
  await vi.waitFor(() => expect(told).toHaveLength(5));
  const changed = `changed ${one.computationId}`;
  expect(told.slice(0, 3)).toEqual([changed, changed, changed]);
  expect(told.slice(3).sort()).toEqual([`cancel ${two.computationId}`, `changed ${two.computationId}`]);
  await Promise.all(listeners.map((listener) => listener.close()));
});

test('a lost connection is made again', async () => {
  const { databaseUrl } = here;
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  const handler = vi.fn();
  const onError = vi.fn();
  const listener = await listen({ databaseUrl, channel: CHANNELS.changed, handler, onError });
  await client.query(`select pg_terminate_backend(pid) from pg_stat_activity where query like 'listen %' and datname = current_database()`);
  await vi.waitFor(() => expect(onError).toHaveBeenCalled(), { timeout: 5_000 });
  await vi.waitFor(
    async () => {
      await client.query('select pg_notify($1, $2)', [CHANNELS.changed, 'again']);
      expect(handler).toHaveBeenCalledWith('again');
    },
    { timeout: 10_000, interval: 50 },
  );
  await listener.close();
  await client.end();
});
