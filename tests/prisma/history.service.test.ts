import fc from 'fast-check';
import pg from 'pg';
import { beforeAll, describe, expect, test } from 'vitest';
import { OPERATORS, type Quantity, type Sort } from '../../openapi/index.ts';
import type { EvaluationSummary, HistoryQuery } from '../../prisma/index.ts';
import { RecordFault } from '../../prisma/index.ts';
import { recordsOfThisFile } from './open.ts';
import { evaluated, newTeam, sampleResult, sampleSubmission } from './samples.ts';

const here = recordsOfThisFile();

/** Every page of a query, one after the other; `between` runs after each. */
async function everyPage(team: string, query: Omit<HistoryQuery, 'cursor'>, between = async () => {}): Promise<EvaluationSummary[]> {
  const items: EvaluationSummary[] = [];
  for (let cursor: string | null | undefined; cursor !== null; ) {
    const page = await here.records.evaluations.list(team, { ...query, cursor });
    expect(page.items.length).toBeLessThanOrEqual(query.limit);
    items.push(...page.items);
    cursor = page.nextCursor;
    await between();
  }
  return items;
}

/** Few different values, so that most pages end among equals; some evaluations without numbers. */
let team: string;
let all: EvaluationSummary[];
const MASSES = [299.9999999999999, 300, 300.00000000000006];
beforeAll(async () => {
  const { records } = here;
  team = await newTeam(records);
  const verdicts = ['pass', 'warn', 'fail'] as const;
  for (let i = 0; i < 40; i++) {
    const submission = sampleSubmission(100 + i);
    if (i % 8 === 7) await records.evaluations.submit(team, submission);
    else {
      const result = sampleResult({ massG: MASSES[i % 3], hours: i % 4, cost: i, verdict: verdicts[i % 3] });
      await evaluated(records, team, submission, result);
    }
  }
  all = await everyPage(team, { limit: 500 });
});

const keyOf = (sort: Sort) => (item: EvaluationSummary) => (sort.by === 'createdAt' ? item.createdAt.getTime() : item.quantities[sort.by]!);
const passes = (value: number | null, op: (typeof OPERATORS)[number], bound: number) => {
  if (value === null) return false;
  return { gte: value >= bound, gt: value > bound, lte: value <= bound, lt: value < bound, eq: value === bound }[op];
};

/** What the query means, over the whole list in memory. */
function expected({ filters = [], status, verdict, sort }: HistoryQuery): string[] {
  const order = sort ?? { by: 'createdAt', descending: true };
  const key = keyOf(order);
  const sign = order.descending ? -1 : 1;
  return all
    .filter((item) => filters.every(({ quantity, op, value }) => passes(item.quantities[quantity], op, value)))
    .filter((item) => (status === undefined || item.status === status) && (verdict === undefined || item.verdict === verdict))
    .filter((item) => order.by === 'createdAt' || item.quantities[order.by] !== null)
    .sort((a, b) => sign * (key(a) - key(b) || (a.id < b.id ? -1 : 1)))
    .map(({ id }) => id);
}

const used: Quantity[] = ['massG', 'totalHours', 'totalPerPart', 'peakForceN'];
const filter = fc.record({
  quantity: fc.constantFrom(...used),
  op: fc.constantFrom(...OPERATORS),
  value: fc.oneof(fc.constantFrom(...MASSES), fc.integer({ min: -1, max: 40 })),
});
const query = fc.record(
  {
    limit: fc.integer({ min: 1, max: 50 }),
    filters: fc.array(filter, { maxLength: 3 }),
    status: fc.constantFrom('queued' as const, 'done' as const),
    verdict: fc.constantFrom('pass' as const, 'warn' as const, 'fail' as const),
    sort: fc.record({ by: fc.constantFrom('createdAt' as const, ...used), descending: fc.boolean() }),
  },
  { requiredKeys: ['limit'] },
);

describe('history', () => {
  test('answers what the same query answers over a list in memory, page by page', async () => {
    expect(all).toHaveLength(40);
    await fc.assert(
      fc.asyncProperty(query, async (asked) => {
        expect((await everyPage(team, asked)).map(({ id }) => id)).toEqual(expected(asked));
      }),
      { numRuns: 150 },
    );
  });

  test.each(['createdAt', 'massG'] as const)('by %s lists each once while others are added, however equal they are', async (by) => {
    const busy = await newTeam(here.records);
    const add = (i: number) => evaluated(here.records, busy, sampleSubmission(100 + i), sampleResult({ massG: MASSES[i % 2] }));
    const there = await Promise.all(Array.from({ length: 30 }, (_, i) => add(i)));
    for (const descending of [true, false]) {
      let added = descending ? 300 : 400;
      const listed = await everyPage(
        busy,
        { limit: 7, sort: { by, descending } },
        async () => void (added % 10 < 8 && (await add(added++))),
      );
      const ids = listed.map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
      expect(there.filter((id) => !ids.includes(id))).toEqual([]);
    }
  });

  test('equal moments of creation are listed once each', async () => {
    const busy = await newTeam(here.records);
    const ids = await Promise.all(Array.from({ length: 12 }, (_, i) => evaluated(here.records, busy, sampleSubmission(100 + i))));
    const client = new pg.Client({ connectionString: here.databaseUrl });
    await client.connect();
    await client.query(`update app.evaluation set created_at = '2027-01-31T09:00:00.001Z' where team_id = $1`, [busy]);
    await client.end();
    const listed = await everyPage(busy, { limit: 5 });
    expect(listed.map(({ id }) => id)).toEqual(ids.sort().reverse());
  });

  test('lists a design and a version', async () => {
    const { designs, versions, evaluations } = here.records;
    const design = await designs.create(team, { name: 'Ball', notes: '' });
    const content = { parameterSet: sampleSubmission(100).input.parameterSet, notes: '', basedOnId: null };
    const [one, two] = [(await versions.create(team, design.id, content))!, (await versions.create(team, design.id, content))!];
    const submitted = [];
    for (const version of [one, two]) {
      const submission = sampleSubmission(100, { designId: design.id, versionId: version.id });
      submitted.push((await evaluations.submit(team, submission)).evaluation);
    }
    const ofDesign = await everyPage(team, { limit: 10, designId: design.id });
    expect(ofDesign.map(({ id, version }) => [id, version])).toEqual([
      [submitted[1].id, 2],
      [submitted[0].id, 1],
    ]);
    expect((await everyPage(team, { limit: 10, versionId: one.id })).map(({ id }) => id)).toEqual([submitted[0].id]);
  });

  test('shows another team nothing', async () => {
    expect(await everyPage(await newTeam(here.records), { limit: 10 })).toEqual([]);
  });
});

describe('a cursor', () => {
  const byMass: Sort = { by: 'massG', descending: true };

  test('of another order is refused, and says of which', async () => {
    const { nextCursor: cursor } = await here.records.evaluations.list(team, { limit: 2, sort: byMass });
    const refused = here.records.evaluations.list(team, { limit: 2, sort: { ...byMass, descending: false }, cursor });
    await expect(refused).rejects.toMatchObject({ name: 'RecordFault', code: 'cursor-of-another-sort', field: 'cursor', value: cursor });
    await expect(refused).rejects.toThrow('order -massG');
  });

  test('that is anything else is refused, whatever it holds', async () => {
    const wrap = (value: unknown) => Buffer.from(JSON.stringify(value)).toString('base64url');
    const id = '019abc10-0000-7000-8000-000000000001';
    const forged = fc.oneof(
      fc.string(),
      fc.json().map((text) => Buffer.from(text).toString('base64url')),
      fc.constantFrom(wrap(['-massG', 'x', id]), wrap(['-massG', 1, "'; drop"]), wrap(['-massG', null, id]), wrap(['-massG', 1, 1])),
    );
    await fc.assert(
      fc.asyncProperty(forged, async (cursor) => {
        const refused = here.records.evaluations.list(team, { limit: 2, sort: byMass, cursor });
        await expect(refused).rejects.toBeInstanceOf(RecordFault);
      }),
      { numRuns: 50 },
    );
  });

  test.each([0, 501, 1.5, Number.NaN])('a limit of %d is refused', async (limit) => {
    await expect(here.records.evaluations.list(team, { limit })).rejects.toMatchObject({ code: 'limit-out-of-range', value: limit });
  });
});
