import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Client } from 'pg';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Started, startService } from '../api/start-process.ts';
import { freshDatabase, type TestDatabase } from '../support/database.ts';
import { expectAccessible, missingBrowser, openBrowser, watchedPage } from './browser.ts';

const walk = missingBrowser ? describe.skip : describe;
if (missingBrowser) process.stderr.write(`left out: the dashboard in a browser, because ${missingBrowser}\n`);

const BALL = 'Size 1 training ball';

/** One walk through all screens: what a step leaves, the next ones find. */
walk('the dashboard in a browser', () => {
  let dataDir: string;
  let database: TestDatabase;
  let service: Started;
  let browser: Browser;
  let page: Page;
  let faults: string[];

  beforeAll(async () => {
    dataDir = await mkdtemp(join(tmpdir(), 'strutwright-dashboard-'));
    database = await freshDatabase();
    [service, browser] = await Promise.all([startService(dataDir, { DATABASE_URL: database.databaseUrl }), openBrowser()]);
    ({ page, faults } = await watchedPage(browser));
  });
  afterAll(async () => {
    await browser?.close();
    if (service && service.child.exitCode === null && service.child.signalCode === null) await service.stop();
    await database?.drop();
    await rm(dataDir, { recursive: true, force: true });
  });

  const open = (name: string) => page.getByRole('link', { name, exact: true }).click();
  const heading = (name: string | RegExp) => page.getByRole('heading', { name, exact: typeof name === 'string' });
  const form = (title: string) => page.locator('form').filter({ has: page.getByRole('heading', { name: title, exact: true }) });
  const view = () => page.getByRole('img', { name: /in three dimensions/ });
  /** What is drawn, as text, so that it can be waited for. */
  const drawn = async (what: Locator) => (await what.screenshot()).toString('base64');

  it('asks for a key, says so where it is wrong, and opens with the right one', async () => {
    // a busy machine may find the service overloaded just after its start
    await expect.poll(() => page.goto(service.url).then((answer) => answer?.status()), { timeout: 30_000, interval: 300 }).toBe(200);
    await page.getByLabel('API key').waitFor();
    await expectAccessible(page, 'door');
    await page.getByLabel('API key').fill('sw_nobody');
    await page.getByRole('button', { name: 'Open' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('API key').fill(await readFile(join(dataDir, 'first-key'), 'utf8'));
    await page.getByRole('button', { name: 'Open' }).click();
    await page.getByText('There are no designs yet.').waitFor();
    await expectAccessible(page, 'designs');
  });

  it('draws and weighs a set while it is typed, names what is not allowed, and posts it', async () => {
    await open('New');
    await page.getByText('2160').waitFor();
    const depth = page.getByLabel('depth mm');
    await depth.fill('2');
    await page.getByText(/is 2; /).waitFor();
    expect(await page.getByRole('button', { name: 'Evaluate' }).isDisabled()).toBe(true);
    await depth.fill('14');
    await page.getByLabel('cells, m').fill('2');
    await page.getByLabel('cells, n').fill('2');
    await page.getByText('960', { exact: true }).waitFor();
    await expectAccessible(page, 'new');
    await page.getByRole('button', { name: 'Evaluate' }).click();
    await heading('Version 1').waitFor();
  });

  it('shows the result: targets, checks that point at struts, plots, files, a lattice that keys turn', async () => {
    await heading(/^Can it be made\?/).waitFor();
    await page.getByRole('img', { name: /Force over deflection/ }).waitFor();
    await view().focus();
    const before = await drawn(view());
    await page.keyboard.press('ArrowLeft');
    await expect.poll(() => drawn(view())).not.toBe(before);
    await page
      .getByRole('button', { name: /^Show \d/ })
      .first()
      .click();
    const hide = page.getByRole('button', { name: 'Hide' });
    expect(await hide.getAttribute('aria-pressed')).toBe('true');
    await expectAccessible(page, 'evaluation');
    await hide.click();
    await page.getByRole('button', { name: 'Draw layer area' }).click();
    await page.getByRole('img', { name: 'Area of the layers' }).waitFor();
    expect(faults).toEqual([]);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'lattice.3mf' }).click();
    expect((await download).suggestedFilename()).toBe('lattice.3mf');
  });

  it('plays the bounce, stops at any moment of it, and goes back to the lattice as designed', async () => {
    const designed = await drawn(view());
    await page.getByRole('button', { name: 'Show the bounce' }).click();
    const moment = page.getByRole('slider');
    await expect.poll(() => moment.inputValue().then(Number), { timeout: 40_000 }).toBeGreaterThan(3);
    // 60 to 120 pictures of a bounce: what the engine's film holds
    expect(Number(await moment.getAttribute('max'))).toBeGreaterThanOrEqual(59);
    await moment.focus();
    await page.keyboard.press('Home');
    await page.getByText('0.0 ms after the touch').waitFor();
    for (let k = 0; k < 5; k++) await page.keyboard.press('PageUp');
    await page.getByText('0.0 ms after the touch').waitFor({ state: 'detached' });
    await expect.poll(() => drawn(view())).not.toBe(designed);
    await expectAccessible(page, 'bounce');
    await page.getByRole('button', { name: 'As designed' }).click();
    await expect.poll(() => drawn(view())).toBe(designed);
  });

  it('makes a version based on that one, and shows both side by side', async () => {
    await open('its design');
    await open('version 1');
    await heading('A version based on version 1').waitFor();
    await page.getByLabel('computed').selectOption('geometry');
    await page.getByLabel('outside diameter').fill('160');
    await page.getByRole('button', { name: 'Evaluate' }).click();
    await heading('Version 2').waitFor();
    await heading(/^Can it be made\?/).waitFor();
    await open('its design');
    await heading('Versions side by side').waitFor();
    // the names, what is wanted, and both versions
    await expect.poll(() => page.getByRole('row').count()).toBe(4);
    await page.getByText('carrier.outsideDiameterMm 162.3 → 160', { exact: true }).waitFor();
    await page.getByText('changed: carrier.outsideDiameterMm 162.3 → 160').waitFor();
    await page.getByText('Change notes and tags').click();
    await page.getByLabel('tags, with spaces between').fill('league outdoor');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.getByText('outdoor', { exact: true }).waitFor();
    await expectAccessible(page, 'design');
  });

  it('posts a batch by a form that knows the rules, and shows what nothing beats', async () => {
    await open('Batches');
    const batch = form('Evaluate many');
    await batch.getByLabel('design').selectOption(BALL);
    await batch.getByLabel('version').selectOption('2');
    await batch.getByText('16 points').waitFor();
    const steps = batch.getByLabel('values');
    await steps.first().fill('1');
    await batch.getByText(/is 1; allowed: /).waitFor();
    expect(await batch.getByRole('button', { name: 'Post it' }).isDisabled()).toBe(true);
    await steps.first().fill('2');
    await steps.nth(1).fill('2');
    await batch.getByLabel('parameter').nth(1).selectOption('links.pattern');
    await batch.getByText('4 points').waitFor();
    await expectAccessible(page, 'batches');
    await batch.getByRole('button', { name: 'Post it' }).click();
    await page.getByText('4 of 4').waitFor();
    await page.getByRole('img', { name: 'total per part against mass, g' }).waitFor();
    await page.getByRole('img', { name: 'mass, g by the parameters of a batch' }).waitFor();
    await page.getByText('With 10 finished evaluations or more').waitFor();
    await expectAccessible(page, 'batch');
    await page.getByRole('link', { name: 'Its evaluations' }).click();
    await page.getByRole('region', { name: 'Evaluations' }).getByRole('link').first().click();
    await heading('Evaluation').waitFor();
    await page.getByRole('link', { name: 'keep it as a version' }).click();
    await heading('An evaluation kept as a version based on version 2').waitFor();
    await expectAccessible(page, 'keep');
    // by its address alone nobody knows what it came from
    const id = new URLSearchParams(new URL(page.url()).hash.split('?')[1]).get('evaluation');
    await page.goto(`${service.url}/#/evaluations/${id}`);
    await page.getByRole('link', { name: 'keep it as a version' }).click();
    await heading('An evaluation kept as a version').waitFor();
    expect(await page.getByLabel('notes').inputValue()).toBe(`Keeps evaluation ${id}`);
    await page.getByLabel('name of the design').fill('Kept from a night');
    await page.getByRole('button', { name: 'Evaluate' }).click();
    await heading('Version 1').waitFor();
  });

  it('posts a search by a form, and cancels it', async () => {
    await open('Searches');
    const search = form('Search for parameters');
    await search.getByLabel('design').selectOption(BALL);
    await search.getByLabel('version').selectOption('1');
    await search.getByLabel('to', { exact: true }).first().fill('1');
    await search.getByText(/allowed: less than max, which is 1/).waitFor();
    await search.getByLabel('to', { exact: true }).first().fill('6');
    await search.getByLabel('evaluations at most').fill('30');
    await expect.poll(() => search.getByRole('button', { name: 'Search' }).isEnabled()).toBe(true);
    await expectAccessible(page, 'searches');
    await search.getByRole('button', { name: 'Search' }).click();
    await page.getByText('of at most 30 tried').waitFor();
    await page.getByRole('link', { name: 'From version 1' }).waitFor();
    await page.getByRole('button', { name: 'Cancel' }).click();
    await page.getByText('cancelled').waitFor();
    await expectAccessible(page, 'search');
  });

  it('plans a tray and draws where each part stands', async () => {
    await open('Trays');
    await page.getByLabel('design').selectOption(BALL);
    await page.getByLabel('version').selectOption('2');
    await page.getByLabel('copies').fill('2');
    await expectAccessible(page, 'trays');
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByRole('img', { name: '2 parts in the chamber, from above' }).waitFor();
    expect(await page.locator('svg circle').count()).toBe(4);
    await expectAccessible(page, 'tray');
  });

  it('takes prints, measurements and files of them, and says what is wrong with one', async () => {
    await open('Test house');
    const prints = form('Enter prints');
    await prints.getByLabel('design').selectOption(BALL);
    await prints.getByLabel('version').selectOption('2');
    await prints.getByLabel('serials, with spaces between').fill('HSL-2-01 HSL-2-02');
    await prints.getByLabel('name of the build').fill('2026-11-20 A');
    await prints.getByLabel('printed on').fill('2026-11-20');
    await prints.getByLabel('powder lot').fill('Lot 14');
    await prints.getByRole('button', { name: 'Keep' }).click();
    await prints.getByText('2 kept').waitFor();
    const measurement = form('Enter a measurement');
    await measurement.getByLabel('serial of the part').fill('HSL-2-01');
    await measurement.getByLabel('measured at').fill('2026-11-22T10:00');
    const readings = measurement.getByLabel('readings, g, with spaces between');
    await readings.fill('heavy');
    await measurement.getByRole('button', { name: 'Keep' }).click();
    await measurement.getByRole('alert').getByText('/values/0', { exact: true }).waitFor();
    await readings.fill('150.1 150,5');
    await measurement.getByRole('button', { name: 'Keep' }).click();
    await page.getByRole('cell', { name: '150.3 g' }).waitFor();
    const good = 'serial,kind,measuredAt,unit,values\nHSL-2-02,mass,2026-11-22T11:00:00Z,g,151\n';
    const file = (text: string) => ({ name: 'readings.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
    await page.getByLabel('CSV file').setInputFiles(file(good.replace(',g,', ',furlong,')));
    await page.getByRole('button', { name: 'Check it' }).click();
    await page
      .getByRole('alert')
      .getByText(/row 2|rows\/2/i)
      .first()
      .waitFor();
    await page.getByLabel('CSV file').setInputFiles(file(good));
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('measurements kept: 1').waitFor();
    await expectAccessible(page, 'test house');
  });

  it('decides on what was measured, shows what that rests on, and draws it beside what was predicted', async () => {
    const acceptance = form('Does a version meet its reference?');
    await acceptance.getByLabel('design').selectOption(BALL);
    await acceptance.getByLabel('version').selectOption('2');
    await acceptance.getByRole('button', { name: 'Decide on what is measured' }).click();
    await heading('Acceptance of version 2').waitFor();
    await page.getByText('HSL-2-02, 2026-11-22').waitFor();
    await expectAccessible(page, 'acceptance');
    await open('its design');
    await heading('Predicted beside measured').waitFor();
    await page.getByRole('img', { name: 'mass, g, predicted and measured' }).waitFor();
    await expectAccessible(page, 'design with measurements');
  });

  it('calibrates, says what the data cannot tell, which version to print next, and keeps the material', async () => {
    await open('Test house');
    await open('Calibrations');
    const calibration = form('Learn from prints');
    await calibration.getByText('2 prints of it').waitFor();
    await calibration.getByLabel('versions of').selectOption(BALL);
    await calibration.getByLabel('version 1').waitFor();
    await expectAccessible(page, 'calibrations');
    await calibration.getByRole('button', { name: 'Calibrate' }).click();
    await heading(/^Print version \d next$/).waitFor();
    await page.getByRole('img', { name: 'Unknowns before and after' }).waitFor();
    await page.getByText(/next to nothing of the modulus/).waitFor();
    await page.getByLabel('key of the material').fill('league-print');
    await page.getByRole('button', { name: 'Keep the material' }).click();
    await page.getByText('league-print, revision 1, can be chosen').waitFor();
    await expectAccessible(page, 'calibration');
  });

  it('computes again what an earlier engine computed, and shows what moved', async () => {
    // as if the version had been computed by an earlier engine, which made it heavier
    const changed = await rows(
      database.databaseUrl,
      `with old as (select e.id, e.computation_id from app.evaluation e join app.version v on v.id = e.version_id
          where v.number = 1 and e.status = 'done' order by e.created_at limit 1),
        aged as (update app.computation c set engine_version = '1.0.0' from old where c.id = old.computation_id)
      update app.evaluation e set engine_version = '1.0.0', mass_g = 2 * mass_g from old where e.computation_id = old.computation_id returning e.id`,
    );
    expect(changed.length).toBeGreaterThan(0);
    await open('Evaluations');
    await page.getByRole('link', { name: 'Compute earlier evaluations again' }).click();
    await page.getByText('Say which first.').waitFor();
    await page.getByLabel('computed by engine').fill('1.0.0');
    await expectAccessible(page, 'reevaluations');
    await page.getByRole('button', { name: 'Compute again' }).click();
    await heading('What moved').waitFor();
    await page.getByRole('link', { name: /^−50 %: / }).waitFor();
    await expectAccessible(page, 'reevaluation');
  });

  it('scrolls through ten thousand evaluations and filters them, holding a screenful and fetching pages as it gets to them', async () => {
    await manyEvaluations(database.databaseUrl);
    const asked: string[] = [];
    page.on('request', (request) => /\/v1\/evaluations\?/.test(request.url()) && asked.push(request.url()));
    await open('Evaluations');
    await page.getByText('100 and more evaluations').waitFor();
    expect(asked.length).toBe(1);
    const list = page.getByRole('region', { name: 'Evaluations' });
    const lines = list.getByRole('link');
    const tops = await lines.evaluateAll((all) => all.slice(0, 5).map((each) => each.getBoundingClientRect().top));
    expect(new Set(tops).size).toBe(5);
    for (const fetched of [200, 300, 400]) {
      await list.evaluate((box) => (box.scrollTop = box.scrollHeight));
      await page.getByText(`${fetched} and more evaluations`).waitFor();
    }
    expect(asked.length).toBe(4);
    expect(await lines.count()).toBeLessThan(60);
    const from = page.getByLabel('from', { exact: true });
    await from.fill('9991');
    await page.getByText('10 evaluations', { exact: true }).waitFor();
    // the address holds what is asked, so that it can be passed on
    await expect.poll(() => page.url()).toContain('massG.gte=9991');
    await page.reload();
    await page.getByText('10 evaluations', { exact: true }).waitFor();
    expect(await from.inputValue()).toBe('9991');
    await from.fill('100000');
    await page.getByText('Nothing is like that.').waitFor();
    await from.fill('1');
    await page.getByLabel('words of names and notes').fill('no such words');
    await page.getByText('Nothing is like that.').waitFor();
    await page.getByLabel('words of names and notes').fill('');
    await page.getByLabel('in the order of').selectOption('-massG');
    await list.getByText('10\u202f000', { exact: false }).waitFor();
    await expectAccessible(page, 'evaluations');
  });

  it('shows what nothing beats among all points of a large night, not only among those it draws', async () => {
    const batch = await largeNight(database.databaseUrl, 3000);
    await page.goto(`${service.url}/#/batches/${batch}`);
    await page.getByText('1 of 3000; 2001 are drawn').waitFor();
    const best = page.getByRole('link', { name: '0.5 g, 0.5' });
    await best.click();
    await page.getByRole('link', { name: 'A large night' }).waitFor();
  });

  it('shows older records a page at a time, without a gap when a tool posts one meanwhile', async () => {
    await manyDesigns(database.databaseUrl, 'earlier', 120, '1 day');
    await open('Designs');
    await heading('earlier 120').waitFor();
    expect(await heading(/^earlier /).count()).toBeLessThanOrEqual(50);
    await page.getByRole('button', { name: 'Show older ones' }).click();
    await page.getByRole('button', { name: 'Show older ones' }).click();
    await heading('earlier 1').waitFor();
    await manyDesigns(database.databaseUrl, 'posted meanwhile', 3, '0 days');
    await heading('posted meanwhile 3').waitFor();
    await expect.poll(() => heading(/^(earlier|posted meanwhile) /).count(), { timeout: 25_000 }).toBe(123);
    expect(new Set(await heading(/^earlier /).allTextContents()).size).toBe(120);
    await page.getByLabel('words of names and notes').fill('earlier 77');
    await expect.poll(() => heading(/^(earlier|posted meanwhile) /).allTextContents()).toEqual(['earlier 77']);
    await page.getByLabel('tag', { exact: true }).fill('no-such-tag');
    await page.getByText('Nothing is like that.').waitFor();
    await page.getByLabel('tag', { exact: true }).fill('');
    await page.getByLabel('words of names and notes').fill('');
    await heading(BALL).waitFor();
  });

  it('fits a phone', async () => {
    await page.setViewportSize({ width: 390, height: 800 });
    for (const name of ['Evaluations', 'Batches', 'Searches', 'Trays', 'Test house', 'New', 'Designs']) {
      await open(name);
      await page.getByRole('heading', { level: 1 }).waitFor();
      expect(await page.evaluate('document.documentElement.scrollWidth - innerWidth'), name).toBeLessThanOrEqual(0);
    }
    await expectAccessible(page, 'phone');
  });

  it('keeps what it shows when the service is gone, and says so', async () => {
    await page.getByRole('link', { name: BALL }).waitFor();
    await service.stop();
    await page
      .getByText(/The service does not answer\. What you see is kept/)
      .first()
      .waitFor();
    expect(await page.getByRole('link', { name: BALL }).isVisible()).toBe(true);
    await expectAccessible(page, 'dead service');
    expect(faults).toEqual([]);
  });
});

/** What a statement returns. */
async function rows(databaseUrl: string, text: string, values: unknown[] = []): Promise<{ id: string }[]> {
  const client = new Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    return (await client.query(text, values)).rows;
  } finally {
    await client.end();
  }
}

/** Ten thousand finished evaluations of 1 to 10 000 g, copies of one that there is. */
const manyEvaluations = (databaseUrl: string) =>
  rows(
    databaseUrl,
    `insert into app.evaluation
      select (jsonb_populate_record(each, jsonb_build_object(
        'id', gen_random_uuid(), 'request_hash', 'copy ' || k, 'mass_g', k, 'created_at', each.created_at + k * interval '1 millisecond'))).*
      from app.evaluation each, generate_series(1, 10000) k
      where each.id = (select id from app.evaluation where status = 'done' order by created_at limit 1)`,
  );

/** Designs that a tool began, a second apart, the last one so long ago. */
const manyDesigns = (databaseUrl: string, name: string, number: number, ago: string) =>
  rows(
    databaseUrl,
    `insert into app.design (id, team_id, name, notes, tags, created_at)
      select gen_random_uuid(), (select team_id from app.design limit 1), $1 || ' ' || k, '', '{}', now() - $3::interval - ($2::int - k) * interval '1 second'
      from generate_series(1, $2::int) k`,
    [name, number, ago],
  );

/** A batch that ended: each point is heavier and dearer than the one before, so that nothing beats the first; its id. */
async function largeNight(databaseUrl: string, points: number): Promise<string> {
  const [{ id }] = await rows(
    databaseUrl,
    `with night as (insert into app.undertaking (id, team_id, kind, name, input, status, total, begun, done, started_at, finished_at)
        select gen_random_uuid(), team_id, 'batch', 'A large night', $2::jsonb, 'done', $1::int, $1::int, $1::int, now(), now()
        from app.design limit 1 returning id),
      points as (insert into app.evaluation
        select (jsonb_populate_record(each, jsonb_build_object('id', gen_random_uuid(), 'request_hash', 'point ' || k, 'mass_g', k - 0.5, 'total_per_part', k - 0.5,
          'design_id', null, 'version_id', null, 'created_at', each.created_at + k * interval '1 millisecond'))).*
        from app.evaluation each, generate_series(1, $1::int) k
        where each.id = (select id from app.evaluation where status = 'done' order by created_at limit 1) returning id, mass_g)
      insert into app.member (undertaking_id, index, evaluation_id, settled_at) select night.id, mass_g - 0.5, points.id, now() from night, points
        returning undertaking_id as id`,
    [points, { vary: [], sampling: { kind: 'sobol', points, seed: 1 } }],
  );
  return id;
}
