import { once } from 'node:events';
import { get, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { QUANTITIES, type Quantity } from '../../openapi/index.ts';
import { conditions, NEWEST_FIRST, sortColumn } from '../../prisma/history-conditions.ts';
import { HELD, historyStatement, LEADING } from '../../prisma/history-statement.ts';
import { withVersions } from '../../prisma/history-versions.ts';
import { IN_TIME } from '../../prisma/in-time.ts';
import { openRecords, type Records } from '../../prisma/index.ts';
import { columnOf } from '../../prisma/quantities.ts';
import { questionsOf } from '../../worker/bench/history-questions.ts';
import { type MadeHistory, makeHistory } from '../../worker/bench/history-rows.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';

const ROWS = 20_000;
let site: Site;
let client: pg.Client;
let made: MadeHistory;
let referee: Person;
/** Without the limit of time. */
let patient: Records;

beforeAll(async () => {
  // no page that looks at thousands of rows takes less time than this
  site = await openSite({}, { historyWithinMs: 1 });
  client = new pg.Client({ connectionString: site.databaseUrl });
  await client.connect();
  made = await makeHistory(client, ROWS);
  referee = await site.person('member', made.teamId);
  patient = openRecords({ databaseUrl: site.databaseUrl });
});
afterAll(async () => {
  await patient.close();
  await client.end();
  await site.close();
});

const LED = [
  'cheapest of a size that prints',
  'softest of a material',
  'within the mass rule, bounces highest',
  'newest of a size that do not print',
];
const isLed = ({ name }: { name: string }) => LED.includes(name.replaceAll('"', ''));

/** Under the settings that the service reads with. */
async function planOf({ text, values }: { text: string; values: unknown[] }): Promise<string> {
  await client.query('begin');
  await client.query(IN_TIME, ['0']);
  const { rows } = await client.query(`explain (costs off) ${text}`, values);
  await client.query('commit');
  return rows.map((row) => row['QUERY PLAN']).join('\n');
}

describe('in a history of 20 000 evaluations', () => {
  test('every filter with its sort, and what teams ask, reads an index and nothing from end to end', async () => {
    const questions = questionsOf(made);
    expect(questions.length).toBeGreaterThan(3 * QUANTITIES.length + 10);
    const without = [];
    for (const { name, asked } of questions) {
      const plan = await planOf(historyStatement(made.teamId, await withVersions(client, made.teamId, asked(0))));
      if (!/Index (Only )?Scan.* (using|on) (evaluation|member)_/.test(plan))
        without.push(`${name} reads no index of evaluations:\n${plan}`);
      if (/Seq Scan on (evaluation|computation|member)/.test(plan)) without.push(`${name} reads a whole table:\n${plan}`);
    }
    expect(without).toEqual([]);
  });

  test('a quantity with its sort reads its own index only as far as the page goes, and the next page goes on from there', async () => {
    for (const by of ['createdAt', ...QUANTITIES] as const) {
      for (const descending of [true, false]) {
        const query = { limit: 50, sort: { by, descending } };
        const { rows } = await client.query(historyStatement(made.teamId, query).text, [made.teamId]);
        const last = rows[49];
        const value = by === 'createdAt' ? last.created_at.toISOString() : last[columnOf(by)];
        const cursor = Buffer.from(JSON.stringify([`${descending ? '-' : ''}${by}`, value, last.id])).toString('base64url');
        const plan = await planOf(historyStatement(made.teamId, { ...query, cursor }));
        expect(plan).toMatch(/Index Scan( Backward)? using evaluation_/);
        expect(plan).toMatch(/Index Cond: .*ROW\(/);
        expect(plan).not.toMatch(/Seq Scan on evaluation/);
      }
    }
  });

  test('a band of size or mass is read and sorted in its index alone, which holds the columns that the statement counts on', async () => {
    for (const by of LEADING) {
      const { rows } = await client.query(
        `select a.attname as name from pg_index i join pg_attribute a on a.attrelid = i.indrelid and a.attnum = any(i.indkey::int2[])
          where i.indexrelid = $1::regclass`,
        [`app.evaluation_${columnOf(by as Quantity)}_idx`],
      );
      const held = [...HELD].map(sortColumn);
      expect(rows.map(({ name }) => name)).toEqual(expect.arrayContaining([...held, 'status', 'verdict', 'material']));
    }
    for (const { name, asked } of questionsOf(made).filter(isLed)) {
      const plan = await planOf(historyStatement(made.teamId, await withVersions(client, made.teamId, asked(0))));
      expect(plan, name).toMatch(/Index Only Scan using evaluation_(mass_g|outside_diameter_mm|circumference_mm)_idx/);
      expect(plan, name).not.toMatch(/hashed SubPlan/);
    }
  });

  test('what an index holds is told as the table tells it, page after page, wherever in the order the band lies', async () => {
    for (const [k, { name, asked }] of questionsOf(made)
      .filter(isLed)
      .flatMap((each) => Array.from({ length: 8 }, (_, k) => [k, each] as const))) {
      const query = asked(k);
      const { stretch, numbers, rest, values } = conditions(made.teamId, query, query.sort);
      const { by, descending } = query.sort ?? NEWEST_FIRST;
      const direction = descending ? 'desc' : 'asc';
      const all = [...stretch, ...[...numbers.values()].flat(), ...rest].join(' and ');
      const { rows } = await client.query(
        `select id from app.evaluation where ${all} order by ${sortColumn(by)} ${direction}, id ${direction} limit 100`,
        values,
      );
      const first = await patient.evaluations.list(made.teamId, query);
      const second =
        first.nextCursor === null ? [] : (await patient.evaluations.list(made.teamId, { ...query, cursor: first.nextCursor })).items;
      expect(
        [...first.items, ...second].map(({ id }) => id),
        `${name} ${k}`,
      ).toEqual(rows.map(({ id }) => id));
    }
  });

  test('a bound on a number of the results is looked for stretch by stretch, and pages together find what one look at all finds', async () => {
    const leaves = [{ path: ['vibration', 'lowestHz'], op: 'lte', value: 0.4 } as const];
    const { rows } = await client.query(
      `select e.id from app.evaluation e join app.computation c on c.id = e.computation_id
        where e.team_id = $1 and e.verdict = 'pass' and (c.result #>> '{vibration,lowestHz}')::float8 <= 0.4 order by e.created_at desc, e.id desc`,
      [made.teamId],
    );
    const found: string[] = [];
    let looks = 0;
    for (let cursor: string | null | undefined; cursor !== null; looks++) {
      const page = await patient.evaluations.list(made.teamId, { verdict: 'pass', leaves, limit: 50, cursor });
      expect(page.scan!.lookedAt).toBeLessThanOrEqual(1000);
      expect(page.scan!.complete).toBe(page.nextCursor === null);
      found.push(...page.items.map(({ id }) => id));
      cursor = page.nextCursor;
    }
    expect(rows.length).toBeGreaterThan(20);
    expect(found).toEqual(rows.map(({ id }) => id));
    expect(looks).toBeGreaterThan(3);
  });

  test('an unlucky combination is stopped, and says what to narrow', async () => {
    // nothing is so in all at once, so every evaluation of the team would have to be looked at
    const filters = QUANTITIES.map((each) => `${each}.gt=${made.percentiles[each][70]}`).join('&');
    const { status, body } = await site.call(referee, 'GET', `/v1/evaluations?${filters}`);
    expect(status).toBe(503);
    expect(body).toMatchObject({ code: 'too-slow', detail: expect.stringMatching(/longer than 0\.001 s.*stopped.*closer bounds/) });
  });

  test('an export is read no further once nobody takes it', async () => {
    const exported = vi.spyOn(site.records.evaluations, 'exported');
    const { port } = site.app.server.address() as AddressInfo;
    const headers = bearer(referee);
    const request = get({ port, host: '127.0.0.1', path: '/v1/exports/evaluations?format=ndjson', headers });
    const [answer] = (await once(request, 'response')) as [IncomingMessage];
    await once(answer, 'data');
    request.destroy();
    await pause(200);
    const pages = exported.mock.calls.length;
    expect(pages).toBeLessThan((0.8 * ROWS) / 500);
    await pause(300);
    expect(exported.mock.calls.length).toBe(pages);
    const { rows } = await client.query(
      `select query from pg_stat_activity where datname = current_database() and state = 'active' and pid <> pg_backend_pid()`,
    );
    expect(rows).toEqual([]);
  });
});
