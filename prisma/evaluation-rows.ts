import { QUANTITY_COLUMNS, quantitiesOfRow } from './quantities.ts';
import type { EvaluationRecord, EvaluationSummary } from './run-records.ts';

/** SQL: what a summary needs of an evaluation `e`, its computation `c` and its version `v`. */
export const SUMMARY_COLUMNS = `e.id, e.team_id, e.computation_id, e.design_id, e.version_id, v.number as version, e.status, e.material, e.engine_version, c.stage,
  c.progress_pct, e.created_at, e.finished_at, e.verdict, ${QUANTITY_COLUMNS.map((column) => `e.${column}`).join(', ')}`;

/** SQL: what a record needs besides. Result and error belong to the evaluation only while its own status says so. */
export const RECORD_COLUMNS = `${SUMMARY_COLUMNS}, c.started_at, c.input_hash, c.thinned_at, e.input,
  case when e.status in ('done', 'failed') then c.result end as result, case when e.status = 'failed' then c.error end as error`;

type Row = Record<string, unknown>;

export const summaryOfRow = (row: Row): EvaluationSummary =>
  ({
    id: row.id,
    teamId: row.team_id,
    computationId: row.computation_id,
    designId: row.design_id,
    versionId: row.version_id,
    version: row.version,
    material: row.material,
    engineVersion: row.engine_version,
    status: row.status,
    stage: row.stage,
    progressPct: row.progress_pct,
    createdAt: row.created_at,
    finishedAt: row.finished_at,
    verdict: row.verdict,
    quantities: quantitiesOfRow(row),
  }) as EvaluationSummary;

export const recordOfRow = (row: Row): EvaluationRecord =>
  ({
    ...summaryOfRow(row),
    startedAt: row.started_at,
    inputHash: row.input_hash,
    thinnedAt: row.thinned_at,
    input: row.input,
    result: row.result,
    error: row.error,
  }) as EvaluationRecord;
