import type pg from 'pg';
import { drift, PAIRS } from './drift.ts';
import { inTime } from './in-time.ts';
import { outdated } from './outdated.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import { QUANTITY_COLUMNS, quantitiesOfRow } from './quantities.ts';
import type { PairRecord, Reevaluations } from './reevaluation-types.ts';

const side = (
  e: string,
  c: string,
) => `case when ${e}.id is not null then jsonb_build_object('id', ${e}.id, 'engine_version', ${c}.engine_version,
  'status', ${e}.status, 'verdict', ${e}.verdict, ${QUANTITY_COLUMNS.map((column) => `'${column}', ${e}.${column}`).join(', ')}) end`;

/** $1 undertaking, $2 limit, $3 the last index of the page before. */
const PAGE = `select r.index, ${side('o', 'oc')} as earlier, ${side('n', 'nc')} as again from ${PAIRS}
  where r.undertaking_id = $1 and ($3::int is null or r.index > $3) order by r.index limit $2`;

const sideOf = (row: Record<string, unknown>): PairRecord['earlier'] =>
  ({
    ...{ evaluationId: row.id, engineVersion: row.engine_version, status: row.status, verdict: row.verdict },
    quantities: quantitiesOfRow(row),
  }) as PairRecord['earlier'];

export const reevaluationRepository = (pool: pg.Pool, { historyWithinMs = 2_000 }: { historyWithinMs?: number } = {}): Reevaluations => ({
  outdated: (teamId, selection, than) => inTime(pool, historyWithinMs, (sql) => outdated(sql, teamId, selection, than)),
  drift: (id) => inTime(pool, historyWithinMs, (sql) => drift(sql, id)),
  async pairs(id, page) {
    const limit = pageLimit(page);
    const after = readCursor(page, 'index', 'number');
    const { rows } = await pool.query(PAGE, [id, limit + 1, after ? Number(after.value) : null]);
    const pairOf = ({ index, earlier, again }: (typeof rows)[number]) => ({
      index,
      earlier: sideOf(earlier),
      again: again && sideOf(again),
    });
    const place = ({ index, earlier }: PairRecord) => ({ sort: 'index', value: index, id: earlier.evaluationId });
    return toPage(rows.map(pairOf), limit, place, (each) => each);
  },
});
