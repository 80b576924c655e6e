import type pg from 'pg';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { OwnRun } from './run-records.ts';
import type { OwnRuns } from './run-repositories.ts';
import { computationOf, isFresh } from './submit.ts';
import type { Sql } from './transaction.ts';
import { uuidv7 } from './uuid.ts';

export type OwnKind = 'tray' | 'calibration' | 'surface';
/** What of an input lists do without. */
const BULKY: Readonly<Record<OwnKind, readonly string[]>> = { tray: [], calibration: [], surface: ['rows', 'values'] };

const columns = (input: string, result: string) => `c.id, c.status, c.stage, c.progress_pct, c.created_at, c.started_at, c.finished_at,
  ${input} as input, case when c.status = 'done' then ${result} end as result, case when c.status = 'failed' then c.error end as error`;
const WHOLE = columns('c.input', 'c.result');

const submitStatement = (kind: OwnKind) => `with c as (${computationOf(kind)}) select ${WHOLE}, ${isFresh} as fresh from c`;

/** $1 id, $2 team, $3 kind. */
const GET = `select ${WHOLE} from app.computation c where c.id = $1 and c.team_id = $2 and c.kind = $3`;

/** Without results. $1 team, $2 limit, $3 and $4 the place of the last one. */
const listStatement = (kind: OwnKind) => `
  select ${columns(`c.input - '{${BULKY[kind].join(',')}}'::text[]`, 'null')} from app.computation c
  where c.team_id = $1 and c.kind = '${kind}' and ($3::timestamptz is null or (c.created_at, c.id) < ($3::timestamptz, $4::uuid))
  order by c.created_at desc, c.id desc limit $2`;

const recordOfRow = <Input, Result>(row: Record<string, unknown>): OwnRun<Input, Result> =>
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
  }) as OwnRun<Input, Result>;

/** Finds or makes the run of an input, inside a transaction or not; what it learns from is part of the input, so new evidence makes another. */
export const submitOwn =
  <Input, Result>(sql: Sql, kind: OwnKind): OwnRuns<Input, Result>['submit'] =>
  async (teamId, { input, inputHash, engineVersion }) => {
    const { rows } = await sql.query(submitStatement(kind), [uuidv7(), teamId, inputHash, engineVersion, JSON.stringify(input)]);
    const run = recordOfRow<Input, Result>(rows[0]);
    return { run, dispatch: rows[0].fresh ? run.id : null };
  };

/** Runs that are their computation, of one kind. */
export const ownRunRepository = <Input, Result>(pool: pg.Pool, kind: OwnKind): OwnRuns<Input, Result> => ({
  submit: submitOwn<Input, Result>(pool, kind),
  async get(teamId, id) {
    const { rows } = await pool.query(GET, [id, teamId, kind]);
    return rows.length > 0 ? recordOfRow(rows[0]) : null;
  },
  async list(teamId, page) {
    const limit = pageLimit(page);
    const after = readCursor(page, '-createdAt', 'time');
    const { rows } = await pool.query(listStatement(kind), [teamId, limit + 1, after?.value ?? null, after?.id ?? null]);
    const place = ({ createdAt, id }: OwnRun<Input, Result>) => ({ sort: '-createdAt', value: createdAt.toISOString(), id });
    return toPage(rows.map(recordOfRow<Input, Result>), limit, place, (each) => each);
  },
});
