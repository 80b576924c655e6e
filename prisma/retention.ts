import type pg from 'pg';
import { type Freed, MOST_COUNTED, type RetentionRules } from '../openapi/index.ts';
import { inTime } from './in-time.ts';
import { COUNT_FILES, COUNT_RESULTS, HOLD_RESULTS, REMOVE_FILES, THIN } from './retention-statements.ts';
import type { Retention, Retired } from './retention-types.ts';
import { type Sql, transaction } from './transaction.ts';

const GET = 'select made_files_after_days, point_results_after_days, changed_at from app.retention where team_id = $1';
const SET = `insert into app.retention (team_id, made_files_after_days, point_results_after_days) values ($1, $2, $3)
  on conflict (team_id) do update set made_files_after_days = excluded.made_files_after_days,
    point_results_after_days = excluded.point_results_after_days, changed_at = now(), look_at = now()`;

/** The team whose turn it is, and nobody else's until the transaction ends. */
const TURN = `select * from app.retention where look_at <= now() and coalesce(made_files_after_days, point_results_after_days) is not null
  order by look_at limit 1 for update skip locked`;
/** $1 team, $2 whether there is more to do. */
const NEXT = `update app.retention set look_at = case when $2 then now() else now() + interval '1 hour' end where team_id = $1`;

type Row = { made_files_after_days: number | null; point_results_after_days: number | null } | undefined;
const rulesOf = (row: Row): RetentionRules => ({
  madeFilesAfterDays: row?.made_files_after_days ?? null,
  pointResultsAfterDays: row?.point_results_after_days ?? null,
});

const gone = (rows: { bytes: string | number }[]) => ({
  count: rows.length,
  bytes: rows.reduce((sum, { bytes }) => sum + Number(bytes), 0),
});

async function removeFiles(sql: Sql, teamId: string, days: number | null, most: number) {
  return gone(days === null ? [] : (await sql.query(REMOVE_FILES, [teamId, days, most])).rows);
}

/** Candidates are held first: who asks for one meanwhile waits, and whoever asked before is seen by the second look. */
async function thin(sql: Sql, teamId: string, days: number | null, most: number) {
  if (days === null) return { ...gone([]), held: 0 };
  const held = (await sql.query(HOLD_RESULTS, [teamId, days, most])).rows.map(({ id }) => id);
  return { ...gone((await sql.query(THIN, [teamId, days, held])).rows), held: held.length };
}

async function piece(sql: Sql, most: number): Promise<Retired | null> {
  const [turn] = (await sql.query(TURN)).rows;
  if (!turn) return null;
  const { team_id: teamId } = turn;
  const { madeFilesAfterDays, pointResultsAfterDays } = rulesOf(turn);
  const madeFiles = await removeFiles(sql, teamId, madeFilesAfterDays, most);
  const { held, ...pointResults } = await thin(sql, teamId, pointResultsAfterDays, most);
  await sql.query(NEXT, [teamId, madeFiles.count === most || held === most]);
  return { teamId, madeFiles, pointResults };
}

/** What teams let go, by rules of their own. */
export function retentionRepository(pool: pg.Pool, { historyWithinMs = 2_000 }: { historyWithinMs?: number } = {}): Retention {
  const counted = async (sql: Sql, text: string, teamId: string, days: number | null): Promise<Freed | null> => {
    if (days === null) return null;
    const [{ n, bytes }] = (await sql.query(text, [teamId, days, MOST_COUNTED + 1])).rows;
    return { count: Math.min(n, MOST_COUNTED), megabytes: Number(bytes) / 1e6, complete: n <= MOST_COUNTED };
  };
  return {
    async get(teamId) {
      const [row] = (await pool.query(GET, [teamId])).rows;
      return { rules: rulesOf(row), changedAt: row?.changed_at ?? null };
    },
    async set(teamId, { madeFilesAfterDays, pointResultsAfterDays }) {
      await pool.query(SET, [teamId, madeFilesAfterDays, pointResultsAfterDays]);
    },
    wouldFree: (teamId, rules) =>
      inTime(pool, historyWithinMs, async (sql) => ({
        madeFiles: await counted(sql, COUNT_FILES, teamId, rules.madeFilesAfterDays),
        pointResults: await counted(sql, COUNT_RESULTS, teamId, rules.pointResultsAfterDays),
      })),
    apply: (most) => transaction(pool, (sql) => piece(sql, most)),
  };
}
