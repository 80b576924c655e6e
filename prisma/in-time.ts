import type pg from 'pg';
import { RecordFault } from './faults.ts';
import { type Sql, transaction } from './transaction.ts';

/** PostgreSQL's code of a statement that was stopped. */
const STOPPED = '57014';

/** Reads with a limit of time for each statement, kept by the server. RecordFault: too-slow, which says what to narrow. */
export async function inTime<T>(pool: pg.Pool, withinMs: number, read: (sql: Sql) => Promise<T>): Promise<T> {
  try {
    return await transaction(pool, async (sql) => {
      await sql.query(`select set_config('statement_timeout', $1, true)`, [String(withinMs)]);
      return read(sql);
    });
  } catch (error) {
    if ((error as { code?: unknown }).code !== STOPPED) throw error;
    const detail = `took longer than ${withinMs / 1000} s and was stopped; sort by a quantity that is filtered, name a design, a version or a batch, or give closer bounds`;
    throw new RecordFault('too-slow', { field: '', value: null }, `The question ${detail}`);
  }
}
