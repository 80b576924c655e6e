import type { Readable } from 'node:stream';
import { setTimeout as pause } from 'node:timers/promises';
import { parquetMetadata, parquetReadObjects } from 'hyparquet';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FORMATS } from '../../api/export-formats.ts';
import { exportHandlers } from '../../api/exports.ts';
import { exampleParameterSet, exampleRequest } from '../../openapi/examples.ts';
import type { ExportedEvaluation } from '../../prisma/index.ts';
import { ask } from './ask.ts';
import { finish, resultWith } from './finished.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
const sized = (outsideDiameterMm: number) => ({ ...exampleRequest.parameterSet, carrier: { shape: 'sphere', outsideDiameterMm } });
const MASSES = [300, 310, 305.25];

beforeAll(async () => {
  site = await openSite();
  referee = await site.person();
  for (const [k, massG] of MASSES.entries()) {
    const { id } = (await site.call(referee, 'POST', '/v1/evaluations', { body: { ...exampleRequest, parameterSet: sized(150 + k) } }))
      .body;
    await finish(site.records, referee.teamId, id, resultWith({ massG }));
  }
  await site.call(referee, 'POST', '/v1/evaluations', { body: { ...exampleRequest, parameterSet: sized(170) } });
});
afterAll(() => site.close());

const fetched = (query: string, who = referee) => ask(site.app.server, { url: `/v1/exports/evaluations${query}`, headers: bearer(who) });

describe('an export of the history', () => {
  it('as CSV has a header, a line each, its parameters and its numbers, filtered and sorted as asked', async () => {
    const { status, headers, text } = await fetched('?massG.gte=1&sort=massG');
    expect([status, headers['content-type'], headers['content-disposition']]).toEqual([
      200,
      'text/csv; charset=utf-8',
      'attachment; filename="evaluations.csv"',
    ]);
    const [head, ...lines] = text.trimEnd().split('\r\n');
    const at = (name: string) => head.split(',').indexOf(name);
    const rows = lines.map((line) => line.split(','));
    expect(rows.map((row) => Number(row[at('massG')]))).toEqual([300, 305.25, 310]);
    expect(rows.map((row) => Number(row[at('carrier.outsideDiameterMm')]))).toEqual([150, 152, 151]);
    expect(rows.map((row) => row[at('material')])).toEqual(['tpu-soft', 'tpu-soft', 'tpu-soft']);
    expect(rows.map((row) => row[at('layers.3.depthMm')])).toEqual(['', '', '']);
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([head.split(',').length]));
  });

  it('as NDJSON is one object a line, what there is not being null', async () => {
    const { headers, text } = await fetched('?format=ndjson');
    expect(headers['content-type']).toBe('application/x-ndjson');
    const rows = text
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(rows.map(({ massG }) => massG)).toEqual([null, 305.25, 310, 300]);
    expect(rows[0]).toMatchObject({ status: 'queued', verdict: null, 'tiling.m': 3, finishedAt: null });
  });

  it('as Parquet is read by another reader with the same values [hyparquet; status: read by it]', async () => {
    const { headers, bytes } = await fetched('?format=parquet&sort=-massG');
    expect(headers['content-type']).toBe('application/vnd.apache.parquet');
    const rows = await parquetReadObjects({ file: Uint8Array.from(bytes).buffer });
    expect(rows.map(({ massG }) => massG)).toEqual([310, 305.25, 300]);
    expect(rows[0]).toMatchObject({ status: 'done', 'links.pattern': 'posts', 'layers.1.depthMm': 14, 'layers.2.depthMm': null });
  });

  it('of nothing is a file without rows; a bad filter is told before anything is sent', async () => {
    expect((await fetched('?massG.gte=1e9')).text.trimEnd().split('\r\n')).toHaveLength(1);
    expect(await parquetReadObjects({ file: Uint8Array.from((await fetched('?format=parquet&massG.gte=1e9')).bytes).buffer })).toEqual([]);
    const refused = await fetched('?format=xlsx');
    expect([refused.status, refused.body.errors[0].pointer]).toEqual([400, '/format']);
    expect((await fetched('', await site.person())).text.trimEnd().split('\r\n')).toHaveLength(1);
  });
});

const evaluation = (k: number): ExportedEvaluation => ({
  ...{ id: `evaluation ${k}`, teamId: 'team', computationId: 'computation', designId: null, versionId: null, version: k % 3 ? k : null },
  ...{ status: 'done', stage: null, progressPct: 100, verdict: 'pass', createdAt: new Date(k), finishedAt: null },
  ...{
    material: 'tpu-soft',
    engineVersion: '1',
    buildVolume: null,
    parameterSet: exampleParameterSet as ExportedEvaluation['parameterSet'],
  },
  quantities: { ...({} as ExportedEvaluation['quantities']), massG: k % 7 ? k / 7 : null },
});

describe('a long export', () => {
  it('as Parquet is handed on group by group, and the groups hold every row as it was', async () => {
    const { head, rows, end } = FORMATS.parquet.begin();
    const evaluations = Array.from({ length: 5300 }, (_, k) => evaluation(k));
    const pieces = [head];
    for (let k = 0; k < evaluations.length; k += 250) pieces.push(rows(evaluations.slice(k, k + 250)));
    // the first group is full with the twentieth page
    expect(pieces.flatMap(({ length }, k) => (k > 0 && length > 0 ? [k] : []))).toEqual([20]);
    const file = Uint8Array.from(Buffer.concat([...pieces, end()])).buffer;
    expect(parquetMetadata(file).row_groups.map((each) => Number(each.num_rows))).toEqual([5000, 300]);
    const read = await parquetReadObjects({ file });
    expect(read.map(({ id, version, massG, verdict }) => ({ id, version, massG, verdict }))).toEqual(
      evaluations.map(({ id, version, quantities: { massG }, verdict }) => ({ id, version, massG, verdict })),
    );
  });

  it('is read no faster than somebody takes it, and no further once nobody does', async () => {
    let pagesRead = 0;
    const page = { items: Array.from({ length: 250 }, (_, k) => evaluation(k)), nextCursor: 'more' };
    const exported = async () => {
      pagesRead++;
      await pause(1);
      return page;
    };
    const { exportEvaluations } = exportHandlers({ exported });
    const asked = { query: { format: 'csv', sort: '-createdAt' }, caller: { teamId: 'team' } } as unknown as Parameters<
      typeof exportEvaluations
    >[0];
    const body = (await exportEvaluations(asked)).body as Readable;
    const taken = body[Symbol.asyncIterator]();
    for (let k = 0; k < 3; k++) await taken.next();
    await pause(50);
    // the header, then a page each; one more lies ready, one is under way
    expect(pagesRead).toBeLessThanOrEqual(5);
    body.destroy();
    const until = pagesRead;
    await pause(50);
    expect(pagesRead).toBeLessThanOrEqual(until + 1);
  });
});
