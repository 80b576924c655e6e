import type pg from 'pg';
import { RecordFault } from './faults.ts';
import { type Sql, transaction } from './transaction.ts';

/** PostgreSQL's code of a statement that was stopped. */
const STOPPED = '57014';

/**
 * Nothing is compiled for a statement (that takes the server longer than most pages do), and no table is read from end to end where an index leads
 * to what is asked for. Sets of ids are crossed in memory. $1 milliseconds.
 */
export const IN_TIME = `select set_config('statement_timeout', $1, true), set_config('jit', 'off', true), set_config('enable_seqscan', 'off', true),
  set_config('work_mem', '64MB', true)`;

/** Reads with a limit of time for each statement, kept by the server. RecordFault: too-slow, which says what to narrow. */
export async function inTime<T>(pool: pg.Pool, withinMs: number, read: (sql: Sql) => Promise<T>): Promise<T> {
  try {
    return await transaction(pool, async (sql) => {
      await sql.query(IN_TIME, [String(withinMs)]);
      return read(sql);
    });
  } catch (error) {
    if ((error as { code?: unknown }).code !== STOPPED) throw error;
    const detail = `took longer than ${withinMs / 1000} s and was stopped; sort by a quantity that is filtered, name a design, a version or a batch, or give closer bounds`;
    throw new RecordFault('too-slow', { field: '', value: null }, `The question ${detail}`);
  }
}
