import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openSite, type Person, type Site } from './site.ts';
import { enter, enterPrints, massOf, PRINTED, printedDesign } from './test-house.ts';

let site: Site;
let coach: Person;
let versionId: string;
let designId: string;
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
  const design = await printedDesign(site, coach, 2);
  designId = design.designId;
  versionId = design.versions[0];
});
afterAll(() => site.close());

const post = (body: object, who = coach) => site.call(who, 'POST', '/v1/prints', { body });
const list = async (query: string, who = coach) => (await site.call(who, 'GET', `/v1/prints?${query}`)).body.items;
const serialsOf = (prints: { serial: string }[]) => prints.map(({ serial }) => serial);

describe('prints', () => {
  test('are entered several at once, each with its place, of the newest revisions of their records', async () => {
    const copies = [{ serial: 'P-1', placeMm: [100, 100, 90], orientationDeg: [0, 90, 0] }, { serial: 'P-2' }, { placeMm: [10, 20, 30] }];
    const finishing = [{ kind: 'cleaning', massChangeG: -0.4 }, { kind: 'dyeing' }];
    const made = await post({ ...PRINTED, versionId, copies, finishing });
    expect(made.status).toBe(201);
    const [first, second, third] = made.body.items;
    expect(first).toMatchObject({ ...copies[0], designId, version: 1, material: { key: 'tpu-soft', revision: 1 }, archivedAt: null });
    expect(second).toMatchObject({
      serial: 'P-2',
      placeMm: null,
      orientationDeg: null,
      finishing: [{ massChangeG: -0.4 }, { massChangeG: null }],
    });
    expect(third.serial).toMatch(/^p-[0-9a-f]{10}$/);
    expect(made.headers.location).toBe(`/v1/prints/${first.id}`);
    expect((await site.call(coach, 'GET', `/v1/prints/${first.id}`)).body).toEqual(first);
  });

  test('of an own material keep the revision that was printed, whatever comes later', async () => {
    const material = (await site.call(coach, 'GET', '/v1/materials/tpu-soft')).body;
    const { builtIn: _, revision: __, ...body } = { ...material, key: 'league-tpu' };
    for (let k = 0; k < 2; k++) await site.call(coach, 'POST', '/v1/materials', { body });
    const older = await enterPrints(site, coach, versionId, ['M-1'], { material: 'league-tpu', materialRevision: 1 });
    const newer = await enterPrints(site, coach, versionId, ['M-2'], { material: 'league-tpu' });
    expect([older, newer].map((each) => each.body.items[0].material.revision)).toEqual([1, 2]);
    expect(serialsOf(await list('material=league-tpu&materialRevision=1'))).toEqual(['M-1']);
    const refused = await enterPrints(site, coach, versionId, ['M-3'], { material: 'league-tpu', materialRevision: 3 });
    expect(refused.body.errors).toEqual([
      { pointer: '/materialRevision', value: 3, detail: 'is 3, which league-tpu does not have; allowed: 1 to 2' },
    ]);
  });

  test('are listed by what they were printed as, page by page', async () => {
    await enterPrints(site, coach, versionId, ['L-1', 'L-2', 'L-3'], { build: 'listed', lot: { name: 'Lot 15' } });
    expect(serialsOf(await list('build=listed')).sort()).toEqual(['L-1', 'L-2', 'L-3']);
    expect(await list('build=listed&lot=Lot%2014')).toEqual([]);
    expect(await list(`build=listed&designId=${designId}&versionId=${versionId}&lot=Lot%2015`)).toHaveLength(3);
    expect(serialsOf(await list('serial=L-2'))).toEqual(['L-2']);
    const { items, nextCursor } = (await site.call(coach, 'GET', '/v1/prints?build=listed&limit=2')).body;
    const rest = (await site.call(coach, 'GET', `/v1/prints?build=listed&limit=2&cursor=${nextCursor}`)).body;
    expect([...serialsOf(items), ...serialsOf(rest.items)].sort()).toEqual(['L-1', 'L-2', 'L-3']);
    expect(rest.nextCursor).toBeNull();
  });

  test('change their notes and finishing alone, and leave the list when they are archived', async () => {
    const [print] = (await enterPrints(site, coach, versionId, ['C-1'], { build: 'changed' })).body.items;
    const url = `/v1/prints/${print.id}`;
    const finishing = [{ kind: 'smoothing', method: 'vapour', massChangeG: 0.2, surfaceChangeMm: 0.01, surface: 'glossy' }];
    const changed = (await site.call(coach, 'PATCH', url, { body: { finishing, notes: 'a little warped' } })).body;
    expect(changed).toEqual({ ...print, finishing, notes: 'a little warped' });
    expect((await site.call(coach, 'PATCH', url, { body: { build: 'other' } })).status).toBe(422);
    const archived = (await site.call(coach, 'DELETE', url)).body;
    expect((await site.call(coach, 'DELETE', url)).body).toEqual(archived);
    expect(await list('build=changed')).toEqual([]);
    expect(await list('build=changed&archived=true')).toEqual([archived]);
  });

  test('with a serial that is taken are refused together, with its place', async () => {
    await enterPrints(site, coach, versionId, ['T-1']);
    const before = await site.rows();
    const refused = await enterPrints(site, coach, versionId, ['T-0', 'T-1']);
    expect(refused.body).toMatchObject({ status: 409, code: 'duplicate', errors: [{ pointer: '/copies/1/serial', value: 'T-1' }] });
    expect((await enterPrints(site, coach, versionId, ['T-2', 'T-2'])).body.errors[0].pointer).toBe('/copies/1/serial');
    expect(await site.rows()).toEqual(before);
    const other = await site.person();
    const theirs = (await printedDesign(site, other)).versions[0];
    expect((await enterPrints(site, other, theirs, ['T-1'])).status).toBe(201);
  });

  test('of records and versions that are not known are refused, with what is', async () => {
    const refused = await post({ ...PRINTED, versionId, material: 'stone', buildVolume: 'shed' });
    expect(refused.body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual(['/material', '/buildVolume']);
    expect(refused.body.errors[0].detail).toMatch(/^is "stone", which is not known; allowed: .*tpu-soft/);
    expect((await post({ ...PRINTED, versionId: randomUUID() })).body.errors[0].pointer).toBe('/versionId');
    const other = await site.person();
    expect((await post({ ...PRINTED, versionId }, other)).body.errors[0].pointer).toBe('/versionId');
    expect(await list('', other)).toEqual([]);
  });

  test('sent twice under one Idempotency-Key are made once', async () => {
    const headers = { 'idempotency-key': 'prints' };
    const body = { ...PRINTED, versionId, copies: [{ serial: 'I-1' }] };
    const [first, again] = [
      await site.call(coach, 'POST', '/v1/prints', { body, headers }),
      await site.call(coach, 'POST', '/v1/prints', { body, headers }),
    ];
    expect([first.status, again.status, again.body]).toEqual([201, 201, first.body]);
  });
});

describe('a measurement', () => {
  beforeAll(async () => {
    await enterPrints(site, coach, versionId, ['W-1', 'W-2']);
  });
  const at = '2027-02-05T10:00:00Z';
  const quantities = async (body: object) => (await enter(site, coach, { serial: 'W-1', measuredAt: at, ...body })).body.values.quantities;

  test('is kept as it was given and in the units of the contract', async () => {
    const body = { ...massOf('W-1', 0.3102, 0.3104, 0.3103), unit: 'kg', operator: 'KB', instrument: 'scale' };
    const made = await enter(site, coach, body);
    expect(made.status).toBe(201);
    expect(made.body).toMatchObject({
      serial: 'W-1',
      designId,
      version: 1,
      given: body,
      values: { quantities: { massG: [310.2, 310.4, 310.3] } },
    });
    expect((await site.call(coach, 'GET', made.headers.location!)).body).toEqual(made.body);
    // Ounces and inches by their definitions of 1959: 28.349523125 g, 25.4 mm.
    expect(await quantities({ kind: 'mass', unit: 'oz', values: [10.9] })).toEqual({ massG: [309.009802063] });
    expect(await quantities({ kind: 'circumference', unit: 'in', values: [20] })).toEqual({ circumferenceMm: [508] });
    expect(await quantities({ kind: 'peak-force', unit: 'kgf', values: [10] })).toEqual({ peakForceN: [98.0665] });
  });

  test('of diameters tells the mean of each axis and half of what they differ by', async () => {
    const axes = [
      { axis: 'seam', values: [16.2, 16.22] },
      { axis: 'pole', values: [16.25] },
    ];
    expect(await quantities({ kind: 'diameter', unit: 'cm', axes })).toEqual({ outsideDiameterMm: [162.1, 162.5], outOfRoundMm: [0.2] });
  });

  test('of a drop tells the restitution of every bounce', async () => {
    const drops = [{ orientation: 'pentagon', bounces: [98, 50] }];
    const { body } = await enter(site, coach, { kind: 'rebound', serial: 'W-1', measuredAt: at, unit: 'cm', dropHeight: 200, drops });
    expect(body.values).toEqual({
      quantities: { reboundHeightMm: [980], restitution: [0.7] },
      conditions: { dropHeightMm: 2000 },
      restitutionByBounce: [[0.7, Math.sqrt(50 / 98)]],
    });
  });

  test('of a curve tells the secant at a tenth of the outside diameter as designed, and the first slope', async () => {
    // 162.3 mm outside: the secant is at 16.23 mm, where a spring of 2 N/mm has that stiffness.
    const curve = [0, 0.5, 1, 1.5, 10, 20].map((mm) => [mm / 10, 2 * mm]);
    const found = await quantities({ kind: 'compression', unit: 'cm', forceUnit: 'N', curves: [curve] });
    expect(found.stiffnessNPerMm[0]).toBeCloseTo(2, 10);
    expect(found.initialNPerMm[0]).toBeCloseTo(2, 10);
  });

  test('of durability tells cycles to the first crack, or cycles survived', async () => {
    const photo = { reference: 'album/14', sha256: 'a'.repeat(64) };
    const cracked = { kind: 'durability', counted: 'impacts', count: 5200, cracked: true, place: 'strut 12', photo };
    expect(await quantities(cracked)).toEqual({ cyclesToFailure: [5200] });
    expect(await quantities({ ...cracked, cracked: false, count: 6000 })).toEqual({ cyclesSurvived: [6000] });
  });

  test('flags a reading that is far off, and keeps it', async () => {
    const { values, outliers } = (await enter(site, coach, massOf('W-2', 310.1, 310.3, 310.2, 301.2))).body;
    expect(values.quantities.massG).toHaveLength(4);
    expect(outliers).toMatchObject([{ quantity: 'massG', index: 3, value: 301.2 }]);
    expect(outliers[0].statistic).toBeGreaterThan(outliers[0].critical);
  });

  test('is kept once; archived, it may be entered again', async () => {
    const body = massOf('W-2', 309.5);
    const made = (await enter(site, coach, body)).body;
    expect((await enter(site, coach, { ...body, notes: 'again' })).body).toMatchObject({ status: 409, code: 'duplicate' });
    await site.call(coach, 'DELETE', `/v1/measurements/${made.id}`);
    expect((await enter(site, coach, body)).status).toBe(201);
    const query = '/v1/measurements?serial=W-2&kind=mass';
    expect((await site.call(coach, 'GET', `${query}&archived=true`)).body.items.map(({ id }: { id: string }) => id)).toEqual([made.id]);
    expect((await site.call(coach, 'GET', query)).body.items.map(({ id }: { id: string }) => id)).not.toContain(made.id);
  });

  test.each([
    ['no part', { ...massOf('W-1', 1), serial: undefined }, '', 'names no part; required: printId or serial'],
    ['two parts', { ...massOf('W-1', 1), printId: randomUUID() }, '/serial', 'is "W-1"; names the part twice; allowed: printId or serial'],
    ['an unknown part', massOf('W-9', 300), '/serial', 'is not known; allowed: that of a print of the team'],
    ['a wrong unit', { ...massOf('W-1', 1), unit: 'mm' }, '/unit', 'is "mm"; allowed: "g", "kg", "mg", "oz", "lb"'],
    [
      'a mass of tonnes',
      { ...massOf('W-1', 1), values: [310, 5000], unit: 'kg' },
      '/values/1',
      'is 5000 kg, which is 5000000 g; allowed: 0.001 to 1000000 g',
    ],
    ['a full name', { ...massOf('W-1', 1), operator: 'Kim' }, '/operator', 'is "Kim"; allowed: one to four capital letters'],
    [
      'a bounce above the drop',
      { ...massOf('W-1'), values: undefined, kind: 'rebound', unit: 'mm', dropHeight: 1800, drops: [{ bounces: [1900] }] },
      '/drops/0/bounces/0',
      'is 1900; allowed: at most the height before it, 1800',
    ],
    [
      'a curve that ends early',
      {
        ...massOf('W-1'),
        values: undefined,
        kind: 'compression',
        unit: 'mm',
        forceUnit: 'N',
        curves: [
          [
            [0, 0],
            [1, 2],
            [12, 20],
          ],
        ],
      },
      '/curves/0',
      'goes from 0 to 12 mm; allowed: a curve that holds 16.2300 mm (10 % of 162.3 mm), with a force there',
    ],
  ])('with %s is refused', async (_, body, pointer, detail) => {
    const before = await site.rows();
    const refused = await enter(site, coach, body);
    expect([refused.status, refused.body.errors[0]]).toMatchObject([422, { pointer, detail }]);
    expect(await site.rows()).toEqual(before);
  });
});
