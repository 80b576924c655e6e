import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CSV_COLUMNS, CSV_TEMPLATE } from '../../openapi/index.ts';
import { ask } from './ask.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';
import { enterPrints, printedDesign } from './test-house.ts';

let site: Site;
let coach: Person;
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
  const { versions } = await printedDesign(site, coach, 2);
  await enterPrints(site, coach, versions[0], ['HSL-1-01', 'HSL-1-02']);
  await enterPrints(site, coach, versions[1], ['HSL-2-01']);
});
afterAll(() => site.close());

const upload = (body: string | Uint8Array, query = '', headers: object = {}) =>
  site.call(coach, 'POST', `/v1/measurements/import${query}`, { body, headers: { 'content-type': 'text/csv', ...headers } });
const HEAD = 'serial,version,kind,measuredAt,unit,values';
const massRow = (k: number, more: Partial<Record<string, string>> = {}) => {
  const cells = {
    serial: 'HSL-1-01',
    version: '1',
    kind: 'mass',
    measuredAt: new Date(Date.UTC(2027, 2, 1) + 1000 * k).toISOString(),
    unit: 'g',
    values: '310.2 310.4',
    ...more,
  };
  return Object.values(cells).join(',');
};
const file = (...rows: string[]) => [HEAD, ...rows].join('\n');

describe('a file of measurements', () => {
  test('filled in from the template is kept whole, once', async () => {
    const template = await ask(site.app.server, { url: '/v1/measurements/template.csv', headers: bearer(coach) });
    expect(template.headers).toMatchObject({
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': 'attachment; filename="measurements.csv"',
    });
    expect(template.text).toBe(CSV_TEMPLATE);
    const before = await site.rows();
    expect((await upload(template.text, '?dryRun=true')).body).toEqual({ rows: 11, created: 0, dryRun: true, outliers: 0 });
    expect(await site.rows()).toEqual(before);
    expect((await upload(template.text)).body).toEqual({ rows: 11, created: 11, dryRun: false, outliers: 0 });
    const { items } = (await site.call(coach, 'GET', '/v1/measurements?serial=HSL-1-01')).body;
    expect(items.map(({ kind }: { kind: string }) => kind).sort()).toEqual([
      'balance',
      'circumference',
      'compression',
      'contact-time',
      'diameter',
      'durability',
      'mass',
      'peak-force',
      'rebound',
      'roll',
      'roundness',
    ]);
    const again = await upload(template.text);
    expect([again.status, again.body.errors.length, again.body.errors[0].pointer]).toEqual([422, 11, '/rows/2']);
    expect((await site.rows())['app.measurement']).toBe(before['app.measurement'] + 11);
  });

  test('from a spreadsheet, with semicolons, a byte order mark, Windows line ends, quotes and empty rows, reads the same', async () => {
    const text = `\uFEFF${HEAD.replaceAll(',', ';')};notes\r\n${massRow(1).replaceAll(',', ';')};"dry; ""clean"",\r\nweighed twice"\r\n;;;;;;\r\n`;
    expect((await upload(text)).body).toMatchObject({ rows: 1, created: 1 });
    const [{ given }] = (await site.call(coach, 'GET', '/v1/measurements?kind=mass&limit=1')).body.items;
    expect(given).toMatchObject({ values: [310.2, 310.4], notes: 'dry; "clean",\r\nweighed twice' });
  });

  test('with bad rows is refused with the number and the column of each, and nothing of it is kept', async () => {
    const before = await site.rows();
    const refused = await upload(
      file(
        massRow(10),
        massRow(11, { unit: 'mm' }),
        massRow(12, { serial: 'HSL-9' }),
        massRow(13, { version: '2' }),
        massRow(14, { values: '310;4' }),
        `${massRow(15)},and one more`,
        massRow(16, { kind: 'weight' }),
        massRow(17, { measuredAt: 'yesterday' }),
        massRow(10),
        massRow(18, { serial: 'HSL-1-02', values: '0.31 5000000' }),
        massRow(19, { values: '"310,2"' }),
      ),
    );
    expect(refused).toMatchObject({ status: 422, body: { detail: '10 of 10 rows are refused, and nothing of the file is kept' } });
    const told = refused.body.errors.map(({ pointer, detail }: { pointer: string; detail: string }) => [pointer, detail]);
    expect(told).toEqual([
      ['/rows/3/unit', 'row 3, unit: is "mm"; allowed: "g", "kg", "mg", "oz", "lb"'],
      ['/rows/4/serial', 'row 4, serial: is "HSL-9"; allowed: the serial of a print of the team'],
      ['/rows/5/version', 'row 5, version: is "2", but HSL-1-01 is of version 1; allowed: that, or nothing'],
      ['/rows/6/values', expect.stringMatching(/^row 6, values: is "310;4"; allowed: a number/)],
      ['/rows/7', 'row 7 has 7 cells; required: 6, as the first row has'],
      ['/rows/8/kind', expect.stringMatching(/^row 8, kind: is "weight"; allowed: "mass", "circumference", /)],
      ['/rows/9/measuredAt', expect.stringMatching(/^row 9, measuredAt: is "yesterday"; allowed: a time in UTC/)],
      ['/rows/10', expect.stringMatching(/^row 10 is a measurement that is kept already, or that an earlier row holds/)],
      ['/rows/11/values', 'row 11, values: is 5000000 g; allowed: 0.001 to 1000000 g'],
      ['/rows/12/values', expect.stringMatching(/^row 12, values: is "310,2"; allowed: a number.* \(with a decimal point\)$/)],
    ]);
    expect(await site.rows()).toEqual(before);
    expect((await upload(file(massRow(10)))).body.created).toBe(1);
  });

  test('with stray quotation marks tells which rows, and reads on', async () => {
    const rows = [massRow(20), massRow(21, { values: '31"0' }), massRow(22, { unit: 'mm' }), massRow(23, { values: '"310' })];
    const { errors } = (await upload(file(...rows))).body;
    expect(errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual(['/rows/3', '/rows/4/unit', '/rows/5']);
    expect(errors[2].detail).toBe('row 5 opens a quotation mark that is never closed');
  });

  test('with thousands of bad rows tells a hundred errors, and how many rows are bad', async () => {
    const rows = Array.from({ length: 2000 }, (_, k) => massRow(100 + k, k % 2 ? { unit: 'mm' } : {}));
    const { errors, detail } = (await upload(file(...rows))).body;
    expect(errors).toHaveLength(100);
    expect(detail).toBe('1000 of 2000 rows are refused, and nothing of the file is kept; the first 100 errors are told, there may be more');
  });

  test.each([
    ['no rows', HEAD, '/rows/2', 'row 2 is missing; required: a row of a measurement'],
    [
      'an unknown column',
      `${HEAD},colour\n${massRow(30)},red`,
      '/rows/1',
      `row 1 names the column "colour"; allowed: ${CSV_COLUMNS.join(', ')}`,
    ],
    ['a column twice', `${HEAD},unit\n${massRow(31)},g`, '/rows/1/unit', 'row 1, unit: is named twice; allowed: each column once'],
    [
      'a column missing',
      'serial,kind,values\nHSL-1-01,mass,1',
      '/rows/1/measuredAt',
      'row 1, measuredAt: is not among the columns; required: serial, kind, measuredAt, values',
    ],
    ['something else', 'PK\u0003\u0004', '/rows/1', expect.stringMatching(/^row 1 names the column/)],
    [
      'a column that its kind does not take',
      `${HEAD},distance\n${massRow(32)},5`,
      '/rows/2/distance',
      expect.stringMatching(/^row 2, distance: is not a known field/),
    ],
  ])('with %s is refused', async (_, text, pointer, detail) => {
    const before = await site.rows();
    const refused = await upload(text);
    expect([refused.status, refused.body.errors[0]]).toMatchObject([422, { pointer, detail }]);
    expect(await site.rows()).toEqual(before);
  });

  test('is read by its own route alone, which may take more than other bodies', async () => {
    const json = await site.call(coach, 'POST', '/v1/measurements/import', { body: { rows: [] } });
    expect(json.body).toMatchObject({ status: 415, detail: 'The body is application/json; the route takes text/csv' });
    const elsewhere = await site.call(coach, 'POST', '/v1/measurements', {
      body: file(massRow(40)),
      headers: { 'content-type': 'text/csv' },
    });
    expect(elsewhere.body).toMatchObject({ status: 415, detail: 'The body is text/csv; the route takes application/json' });
    const long = (bytes: number) => file(massRow(41, { values: `310${' '.repeat(bytes)}` }));
    expect((await upload(long(2_000_000))).status).toBe(200);
    expect((await upload(long(9_000_000))).body.code).toBe('body-too-large');
    expect((await upload(Buffer.from([0x73, 0xff, 0xfe]))).body.code).toBe('malformed-body');
    expect((await upload('')).status).toBe(422);
  });

  test('sent twice under one Idempotency-Key is kept once, and so is one of two sent at the same time', async () => {
    const headers = { 'idempotency-key': 'a-file' };
    const [first, again] = [await upload(file(massRow(50)), '', headers), await upload(file(massRow(50)), '', headers)];
    expect([first.status, again.body]).toEqual([200, first.body]);
    const both = await Promise.all([upload(file(massRow(51), massRow(52))), upload(file(massRow(51), massRow(52)))]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, expect.toSatisfy((status: number) => status === 409 || status === 422)]);
  });
});
