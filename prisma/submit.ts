import { verdictOf } from './computation-statements.ts';
import { RECORD_COLUMNS, recordOfRow } from './evaluation-rows.ts';
import { requestHash } from './input-hash.ts';
import { QUANTITY_COLUMNS, quantityValues } from './quantities.ts';
import type { Claim, EvaluationRecord } from './run-records.ts';
import type { Submission } from './run-repositories.ts';
import type { Sql } from './transaction.ts';
import { uuidv7 } from './uuid.ts';

/** A computation that is worth running again: c is the one that is there already; `whole`: its numbers alone will not do. */
const again = (whole: string) =>
  `(c.status = 'cancelled' or c.status = 'failed' and c.retryable or c.status = 'done' and c.thinned_at is not null and ${whole})`;

/** SQL: finds, renews or makes a computation. $1 id, $2 team, $3 hash, $4 engine version, $5 input. */
export function computationOf(kind: Claim['kind'], whole = 'true'): string {
  const renew = (column: string, value: string) => `${column} = case when ${again(whole)} then ${value} else c.${column} end`;
  return `
    insert into app.computation as c (id, team_id, input_hash, engine_version, input, kind) values ($1, $2, $3, $4, $5, '${kind}')
    on conflict (team_id, input_hash, engine_version) do update set
      ${renew('status', `'queued'`)}, ${renew('queued_at', 'now()')}, ${renew('attempts', '0')}, ${renew('stage', 'null')},
      ${renew('progress_pct', '0')}, ${renew('started_at', 'null')}, ${renew('finished_at', 'null')}, cancel_requested_at = null,
      ${renew('quantities', 'null')}, ${renew('thinned_at', 'null')}
    returning *`;
}

/** SQL: whether a computation was queued by this statement. */
export const isFresh = `c.status = 'queued' and c.queued_at = now()::timestamptz(3)`;

const COPIED = ['status', 'verdict', ...QUANTITY_COLUMNS];

/**
 * One statement, so one transaction and one round trip. The computation is inserted or, when it is there, held (on conflict do update), so
 * that whoever finishes it meanwhile either has finished before its values are copied here, or waits and then finds this evaluation.
 */
const SUBMIT = `
  with c as (${computationOf('evaluation', '$11::boolean')}), e as (
    insert into app.evaluation as e (id, team_id, computation_id, design_id, version_id, input, material, engine_version, request_hash, asked_for, finished_at, ${COPIED.join(', ')})
    select $6, c.team_id, c.id, $7, $8, $5, $5::jsonb #>> '{material,key}', c.engine_version, $9, $10, case when c.finished_at is not null then now() end,
      c.status, ${verdictOf('c')}, ${quantityValues('c.quantities')}
    from c
    on conflict (computation_id, version_id, request_hash) do update set
      asked_for = e.asked_for or excluded.asked_for,
      finished_at = case when e.status = excluded.status then e.finished_at else excluded.finished_at end,
      ${COPIED.map((column) => `${column} = excluded.${column}`).join(', ')}
    returning *
  )
  select ${RECORD_COLUMNS}, ${isFresh} as fresh
  from e join c on c.id = e.computation_id left join app.version v on v.id = e.version_id`;

/** Finds or makes the evaluation of an input and its computation; `dispatch` is the computation when it was queued by this call. */
export async function submit(
  sql: Sql,
  teamId: string,
  { input, inputHash, engineVersion, designId, versionId, askedFor = true, whole = true }: Submission,
): Promise<{ evaluation: EvaluationRecord; dispatch: string | null }> {
  const computation = [uuidv7(), teamId, inputHash, engineVersion, JSON.stringify(input)];
  const { rows } = await sql.query(SUBMIT, [...computation, uuidv7(), designId, versionId, requestHash(input), askedFor, whole]);
  const evaluation = recordOfRow(rows[0]);
  return { evaluation, dispatch: rows[0].fresh ? evaluation.computationId : null };
}
