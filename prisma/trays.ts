import type pg from 'pg';
import { CHANNELS, type TrayInput, type TrayResult } from '../openapi/index.ts';
import { ownRunRepository } from './own-runs.ts';
import type { Trays } from './run-repositories.ts';

/** Queued: cancelled at once. Running: asked to stop. $1 id, $2 team, $3 and $4 channels. */
const CANCEL = `with asked as (
    update app.computation c set cancel_requested_at = now(),
      status = case when status = 'queued' then 'cancelled' else status end,
      finished_at = case when status = 'queued' then now() end
    where id = $1 and team_id = $2 and kind = 'tray' and status in ('queued', 'running') returning id)
  select pg_notify($3, id::text), pg_notify($4, id::text) from asked`;

/** Trays; versions are part of their input, so no two requests that differ share one. */
export function trayRepository(pool: pg.Pool): Trays {
  const runs = ownRunRepository<TrayInput, TrayResult>(pool, 'tray');
  return {
    ...runs,
    async cancel(teamId, id) {
      await pool.query(CANCEL, [id, teamId, CHANNELS.cancel, CHANNELS.changed]);
      return runs.get(teamId, id);
    },
  };
}
