import type pg from 'pg';

/** What runs a statement: the pool, or the one connection of a transaction. */
export type Sql = Pick<pg.Pool, 'query'>;

/** Runs work in one transaction (read committed): committed when it resolves, rolled back when it rejects. */
export async function transaction<T>(pool: pg.Pool, work: (sql: Sql) => Promise<T>): Promise<T> {
  const client = await pool.connect();
  let broken: Error | undefined;
  try {
    await client.query('begin');
    const value = await work(client);
    await client.query('commit');
    return value;
  } catch (error) {
    await client.query('rollback').catch((lost: Error) => {
      broken = lost;
    });
    throw error;
  } finally {
    client.release(broken);
  }
}
