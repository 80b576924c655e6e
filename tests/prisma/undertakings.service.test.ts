import { expect, test, vi } from 'vitest';
import { CHANNELS } from '../../openapi/index.ts';
import { listen } from '../../prisma/index.ts';
import { recordsOfThisFile } from './open.ts';
import { newTeam, sampleResult, sampleSubmission } from './samples.ts';

const here = recordsOfThisFile();
const batch = { kind: 'batch', name: 'night', input: {}, total: 3 } as const;

test('a new undertaking and a change of it are told at once, so that workers need not look by the clock', async () => {
  const told: string[] = [];
  const listener = await listen({ databaseUrl: here.databaseUrl, channel: CHANNELS.changed, handler: (id) => void told.push(id) });
  const team = await newTeam(here.records);
  const { id } = await here.records.undertakings.create(team, batch);
  await vi.waitFor(() => expect(told).toEqual([id]));
  await here.records.undertakings.change(team, 'batch', id, { status: 'paused' });
  await vi.waitFor(() => expect(told).toEqual([id, id]));
  await listener.close();
});

test('members that ended since the last step are counted, so that none is waited for twice', async () => {
  const { undertakings, computations } = here.records;
  const team = await newTeam(here.records);
  const { id } = await undertakings.create(team, batch);
  const [first, second] = await undertakings.advance(id, async (held) => {
    for (const size of [100, 101, 102]) await held.submit(sampleSubmission(size));
    await held.update({ status: 'running' });
  });
  await computations.claim(first, 'a');
  await computations.finish(first, { result: sampleResult(), files: [] });
  await computations.claim(second, 'a');
  const counts = { running: 1, done: 1, failed: 0, cancelled: 0 };
  expect((await undertakings.get(team, 'batch', id))!.done).toBe(0);
  expect((await undertakings.progress(id)).counts).toEqual(counts);
  await undertakings.advance(id, async () => {});
  expect((await undertakings.get(team, 'batch', id))!.done).toBe(1);
  expect((await undertakings.progress(id)).counts).toEqual(counts);
});
