import pg from 'pg';
import { openRecords, type Records } from '../../prisma/index.ts';
import { spreadOf } from './clock.ts';
import { onOwnDatabase } from './database.ts';
import { exportRow } from './history-exports.ts';
import { type Asked, questionsOf } from './history-questions.ts';
import { type MadeHistory, makeHistory } from './history-rows.ts';
import { checksumOf, type Row, shownMs } from './row.ts';

/** Another number by the variable of that name. */
const ROWS = Number(process.env.HISTORY_ROWS ?? 1_000_000);
const TIMES = Number(process.env.HISTORY_TIMES ?? 100);
const MOST_MS = 50;

/** A history of a million evaluations: its exports, and its pages: each filter with its sort alone, and combinations of them, through the repository that the route asks. */
export async function historyRow(): Promise<Row[]> {
  return onOwnDatabase(async (databaseUrl) => {
    const client = new pg.Client({ connectionString: databaseUrl });
    await client.connect();
    const began = performance.now();
    const made = await makeHistory(client, ROWS);
    const madeInMs = performance.now() - began;
    const size = await sizes(client);
    const records = openRecords({ databaseUrl });
    try {
      return [rowOf(await askAll(records, made), { madeInMs, size }), await exportRow(databaseUrl, client, made)];
    } finally {
      await records.close();
      await client.end();
    }
  });
}

interface Answered {
  readonly name: string;
  readonly times: readonly number[];
  readonly items: number;
}

/** Each question so many times and the page after it, when there is one; the first two askings warm up. */
async function askAll(records: Records, made: MadeHistory): Promise<Answered[]> {
  const answered: Answered[] = [];
  for (const { name, asked } of questionsOf(made)) {
    for (let k = 0; k < 2; k++) await timedPages(records, made, asked(k));
    const pages: Awaited<ReturnType<typeof timedPages>> = [];
    for (let k = 0; k < TIMES; k++) pages.push(...(await timedPages(records, made, asked(k))));
    answered.push({ name, times: pages.map(({ ms }) => ms), items: pages.reduce((sum, { items }) => sum + items, 0) });
  }
  return answered;
}

async function timedPages(records: Records, { teamId }: MadeHistory, asked: Asked): Promise<{ ms: number; items: number }[]> {
  const pages: { ms: number; items: number }[] = [];
  for (let cursor: string | null | undefined; cursor !== null && pages.length < 2; ) {
    const started = performance.now();
    const page = await records.evaluations.list(teamId, { ...asked, cursor });
    pages.push({ ms: performance.now() - started, items: page.items.length });
    cursor = page.nextCursor;
  }
  return pages;
}

/** Of the table of evaluations and of its indexes, MB. */
async function sizes(client: pg.Client): Promise<{ tableMb: number; indexMb: number }> {
  const { rows } = await client.query(
    `select pg_table_size('app.evaluation') / 1e6 as table, pg_indexes_size('app.evaluation') / 1e6 as index`,
  );
  return { tableMb: Number(rows[0].table), indexMb: Number(rows[0].index) };
}

const percentile = (times: readonly number[], share: number) => times.toSorted((a, b) => a - b)[Math.ceil(share * times.length) - 1];

function rowOf(answered: Answered[], { madeInMs, size }: { madeInMs: number; size: { tableMb: number; indexMb: number } }): Row {
  const all = answered.flatMap(({ times }) => times);
  const of = ({ name, times }: Answered) => ({ name, median: percentile(times, 0.5), high: percentile(times, 0.99) });
  const slowest = answered.map(of).sort((a, b) => b.high - a.high);
  const shown = (each: ReturnType<typeof of>) => `${each.name} ${shownMs(each.median)} / ${shownMs(each.high)}`;
  const missed = slowest.filter(({ high }) => high > MOST_MS);
  return {
    ...spreadOf(all),
    name: `page of a history of ${ROWS} evaluations`,
    input: `${answered.length} questions (every filter with its sort, combinations that teams ask), each ${TIMES} times of another band, with the page after it; 50 items`,
    checksum: checksumOf(answered.map(({ items }) => items)),
    beside:
      `99th percentile of all ${shownMs(percentile(all, 0.99))}; median / 99th percentile of the slowest: ${slowest.slice(0, 8).map(shown).join(', ')}; of the combinations: ` +
      `${slowest
        .filter(({ name }) => name.startsWith('"'))
        .map(shown)
        .join(', ')}; made in ${shownMs(madeInMs)}; table ${size.tableMb.toFixed(0)} MB, its indexes ${size.indexMb.toFixed(0)} MB`,
    asked: `at most ${MOST_MS} ms at the 99th percentile of every question${missed.length > 0 ? `; missed by ${missed.length}: ${missed.map(shown).join(', ')}` : ''}`,
    met: missed.length === 0,
  };
}
