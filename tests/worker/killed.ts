import { afterEach, expect, it } from 'vitest';
import { onQueue } from './backends.ts';
import { large, openSite, type Site, small, until } from './harness.ts';

/** Evaluations that take seconds, so that the first worker is sure to have one under way when it is killed. */
const LARGE = 1;

/** Counts, in the database itself, how often a result is stored for a computation. */
const COUNT_STORES = `
  CREATE TABLE stored (computation_id uuid);
  CREATE FUNCTION note_store() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN INSERT INTO public.stored VALUES (NEW.id); RETURN NEW; END $$;
  CREATE TRIGGER note_store AFTER UPDATE ON app.computation FOR EACH ROW
    WHEN (NEW.result IS NOT NULL AND OLD.result IS DISTINCT FROM NEW.result) EXECUTE FUNCTION note_store();`;

/** A run of so many evaluations whose workers are killed on the way. */
export const runWithKilledWorkers = (evaluations: number) =>
  onQueue(`a run of ${evaluations} evaluations with killed workers`, (backend) => {
    let site: Site;
    afterEach(() => site.close());

    const runningOn = async (pid: number) => {
      const { rows } = await site.client.query(`SELECT id FROM app.computation WHERE status = 'running' AND worker_id LIKE $1`, [
        `%:${pid}:%`,
      ]);
      return rows[0]?.id as string | undefined;
    };

    it('ends with all of them done, each stored once', async () => {
      site = await openSite(backend);
      await site.client.query(COUNT_STORES);
      for (let k = 0; k < evaluations; k++) await site.submit(await (k < LARGE ? large(k) : small(k)));
      const first = await site.worker();
      const cutShort = await until('the first worker has a long run', () => runningOn(first.pid));
      await first.stop('SIGKILL');

      const second = await site.worker();
      await until('half of them are done', async () => (await site.records.computations.counts()).done >= evaluations / 2);
      await site.worker();
      await second.stop('SIGKILL');
      await until('all are done', async () => (await site.records.computations.counts()).done === evaluations, 50_000);

      const counted = await site.client.query(
        `
      SELECT (SELECT count(*)::int FROM public.stored) AS stores,
             (SELECT count(DISTINCT computation_id)::int FROM public.stored) AS stored,
             (SELECT count(*)::int FROM app.evaluation WHERE status = 'done' AND mass_g IS NOT NULL) AS evaluations,
             (SELECT count(*)::int FROM app.file WHERE name = 'graph.json') AS files,
             (SELECT attempts FROM app.computation WHERE id = $1) AS attempts`,
        [cutShort],
      );
      const { attempts, ...counts } = counted.rows[0];
      expect(counts).toEqual({
        stores: evaluations,
        stored: evaluations,
        evaluations: evaluations,
        files: evaluations,
      });
      // one more for each worker that was killed at it: surely the first, and the second where it had come to it by then
      expect([2, 3]).toContain(attempts);
      await until('the queue is empty', async () => {
        const { waiting, active, delayed } = await site.dispatch.counts();
        return waiting + active + delayed === 0;
      });
    }, 150_000);
  });
