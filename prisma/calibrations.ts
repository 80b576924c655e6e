import type pg from 'pg';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { CalibrationRecord } from './run-records.ts';
import type { Calibrations } from './run-repositories.ts';
import { computationOf, isFresh } from './submit.ts';
import type { Sql } from './transaction.ts';
import { uuidv7 } from './uuid.ts';

const COLUMNS = `c.id, c.status, c.stage, c.progress_pct, c.created_at, c.started_at, c.finished_at, c.input,
  case when c.status = 'done' then c.result end as result, case when c.status = 'failed' then c.error end as error`;

const SUBMIT = `with c as (${computationOf('calibration')}) select ${COLUMNS}, ${isFresh} as fresh from c`;

const GET = `select ${COLUMNS} from app.computation c where c.id = $1 and c.team_id = $2 and c.kind = 'calibration'`;

/** Without results. $1 team, $2 limit, $3 and $4 the place of the last one. */
const LIST = `select ${COLUMNS.replace('c.result', 'null')} from app.computation c
  where c.team_id = $1 and c.kind = 'calibration' and ($3::timestamptz is null or (c.created_at, c.id) < ($3::timestamptz, $4::uuid))
  order by c.created_at desc, c.id desc limit $2`;

const recordOfRow = (row: Record<string, unknown>): CalibrationRecord =>
  ({
    id: row.id,
    status: row.status,
    stage: row.stage,
    progressPct: row.progress_pct,
    createdAt: row.created_at,
    startedAt: row.started_at,
    finishedAt: row.finished_at,
    input: row.input,
    result: row.result,
    error: row.error,
  }) as CalibrationRecord;

type Submit = Calibrations['submit'];

/** Finds or makes the calibration of an input; the measurements are part of the input, so new ones make another. */
export async function submitCalibration(
  sql: Sql,
  ...[teamId, { input, inputHash, engineVersion }]: Parameters<Submit>
): ReturnType<Submit> {
  const { rows } = await sql.query(SUBMIT, [uuidv7(), teamId, inputHash, engineVersion, JSON.stringify(input)]);
  const calibration = recordOfRow(rows[0]);
  return { calibration, dispatch: rows[0].fresh ? calibration.id : null };
}

export const calibrationRepository = (pool: pg.Pool): Calibrations => ({
  submit: (...given) => submitCalibration(pool, ...given),
  async get(teamId, id) {
    const { rows } = await pool.query(GET, [id, teamId]);
    return rows.length > 0 ? recordOfRow(rows[0]) : null;
  },
  async list(teamId, page) {
    const limit = pageLimit(page);
    const after = readCursor(page, '-createdAt', 'time');
    const { rows } = await pool.query(LIST, [teamId, limit + 1, after?.value ?? null, after?.id ?? null]);
    const place = ({ createdAt, id }: CalibrationRecord) => ({ sort: '-createdAt', value: createdAt.toISOString(), id });
    return toPage(rows.map(recordOfRow), limit, place, (each) => each);
  },
});
