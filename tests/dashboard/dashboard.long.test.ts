import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Started, startService } from '../api/start-process.ts';
import { expectAccessible, missingBrowser, openBrowser } from './browser.ts';

const walk = missingBrowser ? describe.skip : describe;
if (missingBrowser) process.stderr.write(`left out: the dashboard in a browser, because ${missingBrowser}\n`);

walk('the dashboard in a browser', () => {
  let dataDir: string;
  let service: Started;
  let browser: Browser;
  let page: Page;
  const faults: string[] = [];

  beforeAll(async () => {
    dataDir = await mkdtemp(join(tmpdir(), 'strutwright-dashboard-'));
    [service, browser] = await Promise.all([startService(dataDir), openBrowser()]);
    page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    page.setDefaultTimeout(30_000);
    page.on('pageerror', (error) => faults.push(String(error)));
    page.on('console', (message) => {
      if (message.type() === 'error' && !/4\d\d|503|net::/.test(message.text())) faults.push(message.text());
    });
  }, 90_000);
  afterAll(async () => {
    await browser?.close();
    if (service && service.child.exitCode === null && service.child.signalCode === null) await service.stop();
    await rm(dataDir, { recursive: true, force: true });
  });

  it('asks for a key, says so where it is wrong, and opens with the right one', async () => {
    await expect.poll(() => page.goto(service.url).then((answer) => answer?.status()), { timeout: 30_000, interval: 500 }).toBe(200);
    await expectAccessible(page, 'door');
    await page.getByLabel('API key').fill('sw_nobody');
    await page.getByRole('button', { name: 'Open' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('API key').fill(await readFile(join(dataDir, 'first-key'), 'utf8'));
    await page.getByRole('button', { name: 'Open' }).click();
    await page.getByText('There are no designs yet.').waitFor();
    await expectAccessible(page, 'designs');
  }, 60_000);

  it('draws and weighs a set while it is typed, names what is not allowed, and posts it', async () => {
    await page.getByRole('link', { name: 'New', exact: true }).click();
    await page.getByText('2160').waitFor();
    const depth = page.getByLabel('depth mm');
    await depth.fill('2');
    await page.getByText(/is 2; /).waitFor();
    expect(await page.getByRole('button', { name: 'Evaluate' }).isDisabled()).toBe(true);
    await depth.fill('14');
    await page.getByLabel('cells, m').fill('2');
    await page.getByLabel('cells, n').fill('2');
    await page.getByText('960', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Evaluate' }).isEnabled();
    await expectAccessible(page, 'new');
    await page.getByRole('button', { name: 'Evaluate' }).click();
    await page.getByRole('heading', { name: 'Version 1' }).waitFor();
  }, 60_000);

  it('shows the result: targets, checks that point at struts, plots, files, a lattice that keys turn', async () => {
    await page.getByRole('heading', { name: 'Can it be made?' }).waitFor({ timeout: 60_000 });
    await page.getByRole('img', { name: /Force over deflection/ }).waitFor();
    const view = page.getByRole('img', { name: /in three dimensions/ });
    await view.focus();
    const before = await view.screenshot();
    await page.keyboard.press('ArrowLeft');
    await page.waitForTimeout(500);
    expect((await view.screenshot()).equals(before)).toBe(false);
    const show = page.getByRole('button', { name: /^Show \d/ }).first();
    await show.click();
    expect(await page.getByRole('button', { name: 'Hide' }).getAttribute('aria-pressed')).toBe('true');
    await expectAccessible(page, 'evaluation');
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'lattice.3mf' }).click();
    expect((await download).suggestedFilename()).toBe('lattice.3mf');
  }, 120_000);

  it('plays the bounce, stops at any moment of it, and goes back to the lattice as designed', async () => {
    const view = page.getByRole('img', { name: /in three dimensions/ });
    await page.getByRole('button', { name: 'Hide' }).click();
    await page.waitForTimeout(300);
    const designed = await view.screenshot();
    await page.getByRole('button', { name: 'Show the bounce' }).click();
    const moment = page.getByRole('slider');
    await moment.waitFor({ timeout: 90_000 });
    await expect.poll(() => moment.inputValue().then(Number), { timeout: 20_000 }).toBeGreaterThan(3);
    const last = Number(await moment.getAttribute('max'));
    // 60 to 120 pictures of a bounce: what the engine's film holds
    expect(last).toBeGreaterThanOrEqual(59);
    await moment.focus();
    await page.keyboard.press('Home');
    await page.getByText('0.0 ms after the touch').waitFor();
    for (let k = 0; k < 20; k++) await page.keyboard.press('ArrowRight');
    expect(await page.getByText('0.0 ms after the touch').count()).toBe(0);
    expect((await view.screenshot()).equals(designed)).toBe(false);
    await expectAccessible(page, 'bounce');
    await page.getByRole('button', { name: 'As designed' }).click();
    await page.waitForTimeout(300);
    expect((await view.screenshot()).equals(designed)).toBe(true);
  }, 150_000);

  it('makes a version based on that one, and shows both side by side', async () => {
    await page.getByRole('link', { name: 'its design' }).click();
    await page.getByRole('link', { name: 'version 1', exact: true }).click();
    await page.getByRole('heading', { name: 'A version based on version 1' }).waitFor();
    await page.getByLabel('computed').selectOption('geometry');
    await page.getByLabel('outside diameter').fill('160');
    await page.getByRole('button', { name: 'Evaluate' }).click();
    await page.getByRole('heading', { name: 'Version 2' }).waitFor();
    await page.getByRole('heading', { name: 'Can it be made?' }).waitFor();
    await page.getByRole('link', { name: 'its design' }).click();
    await page.getByRole('heading', { name: 'Versions side by side' }).waitFor();
    // the names, what is wanted, and both versions
    await expect.poll(() => page.getByRole('row').count(), { timeout: 10_000 }).toBe(4);
    await page.getByText('162.3 → 160').waitFor();
    await page.getByText('Change notes and tags').click();
    await page.getByLabel('tags, with spaces between').fill('league outdoor');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.getByText('outdoor', { exact: true }).waitFor();
    await expectAccessible(page, 'design');
  }, 90_000);

  it('lists what was evaluated, filtered as asked, on a phone as well', async () => {
    await page.setViewportSize({ width: 390, height: 800 });
    await page.getByRole('link', { name: 'Evaluations' }).click();
    await page.getByText('2 evaluations').waitFor();
    await page.getByLabel('mass from, g').fill('100000');
    await page.getByText('Nothing is like that.').waitFor();
    await page.getByLabel('mass from, g').fill('1');
    await page.getByText('2 evaluations').waitFor();
    await expectAccessible(page, 'evaluations');
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
    await page.getByRole('link', { name: 'Batches' }).click();
    await page.getByText('None yet.').waitFor();
    await expectAccessible(page, 'batches');
    await page.getByRole('link', { name: 'Searches' }).click();
    await page.getByText('None yet.').waitFor();
    await expectAccessible(page, 'searches');
  }, 60_000);

  it('scrolls through ten thousand evaluations, fetching pages as it gets to them and holding a screenful', async () => {
    const { items } = (await page.evaluate(
      `fetch('/v1/evaluations?limit=1', { headers: { authorization: 'Bearer ' + sessionStorage.getItem('strutwright-key') } }).then((answer) => answer.json())`,
    )) as { items: { quantities: object }[] };
    let asked = 0;
    // a long history made of one line: what is tried here is the list, not the service
    await page.route('**/v1/evaluations?*', (route) => {
      asked++;
      const from = Number(new URL(route.request().url()).searchParams.get('cursor') ?? 0);
      const lines = Array.from({ length: 100 }, (_, k) => ({
        ...items[0],
        id: `line-${from + k}`,
        quantities: { ...items[0].quantities, massG: from + k },
      }));
      return route.fulfill({ json: { items: lines, nextCursor: from + 100 < 10_000 ? String(from + 100) : null } });
    });
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.getByRole('link', { name: 'Evaluations' }).click();
    await page.getByText('100 and more evaluations').waitFor();
    expect(asked).toBe(1);
    const list = page.getByRole('region', { name: 'Evaluations' });
    const lines = list.getByRole('link');
    const tops = await lines.evaluateAll((all) => all.slice(0, 5).map((each) => each.getBoundingClientRect().top));
    expect(new Set(tops).size).toBe(5);
    for (let k = 0; k < 200 && asked < 100; k++) {
      await list.evaluate((box) => (box.scrollTop = box.scrollHeight));
      await page.waitForTimeout(50);
    }
    await page.getByText('10000 evaluations', { exact: true }).waitFor();
    await list.evaluate((box) => (box.scrollTop = box.scrollHeight));
    await list.getByText('9999').waitFor();
    expect(asked).toBe(100);
    expect(await lines.count()).toBeLessThan(60);
    await page.unroute('**/v1/evaluations?*');
  }, 60_000);

  it('plans a tray and draws where each part stands', async () => {
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.getByRole('link', { name: 'Trays' }).click();
    await page.getByLabel('design').selectOption('Size 1 training ball');
    await page.getByLabel('version').selectOption('2');
    await page.getByLabel('copies').fill('2');
    await expectAccessible(page, 'trays');
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByRole('img', { name: '2 parts in the chamber, from above' }).waitFor();
    expect(await page.locator('svg circle').count()).toBe(4);
    await expectAccessible(page, 'tray');
  }, 60_000);

  it('takes prints, measurements and files of them, and says what is wrong with one', async () => {
    await page.getByRole('link', { name: 'Test house' }).click();
    const prints = page.locator('form').filter({ hasText: 'Enter prints' });
    await prints.getByLabel('design').selectOption('Size 1 training ball');
    await prints.getByLabel('version').selectOption('2');
    await page.getByLabel('serials, with spaces between').fill('HSL-2-01 HSL-2-02');
    await page.getByLabel('name of the build').fill('2026-11-20 A');
    await page.getByLabel('printed on').fill('2026-11-20');
    await page.getByLabel('powder lot').fill('Lot 14');
    await page.getByRole('button', { name: 'Keep', exact: true }).first().click();
    await page.getByText('2 kept').waitFor();
    await page.getByLabel('serial of the part').fill('HSL-2-01');
    await page.getByLabel('measured at').fill('2026-11-22T10:00');
    await page.getByLabel('readings, g, with spaces between').fill('heavy');
    await page.getByRole('button', { name: 'Keep', exact: true }).nth(1).click();
    await page.getByRole('alert').getByText('/values/0', { exact: true }).waitFor();
    await page.getByLabel('readings, g, with spaces between').fill('250.1 250,4');
    await page.getByRole('button', { name: 'Keep', exact: true }).nth(1).click();
    await page.getByRole('cell', { name: '250.3 g' }).waitFor();
    const bad = 'serial,kind,measuredAt,unit,values\nHSL-2-02,mass,2026-11-22T11:00:00Z,furlong,250\n';
    await page.getByLabel('CSV file').setInputFiles({ name: 'bad.csv', mimeType: 'text/csv', buffer: Buffer.from(bad) });
    await page.getByRole('button', { name: 'Check it' }).click();
    await page
      .getByRole('alert')
      .getByText(/row 2|rows\/2/i)
      .first()
      .waitFor();
    await page
      .getByLabel('CSV file')
      .setInputFiles({ name: 'good.csv', mimeType: 'text/csv', buffer: Buffer.from(bad.replace('furlong', 'g')) });
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('1 measurements are kept').waitFor();
    await expectAccessible(page, 'test house');
  }, 60_000);

  it('decides on what was measured, and shows what that rests on', async () => {
    await page.getByRole('group', { name: 'Version' }).getByLabel('design').selectOption('Size 1 training ball');
    await page.getByRole('group', { name: 'Version' }).getByLabel('version').selectOption('2');
    await page.getByRole('button', { name: 'Decide on what is measured' }).click();
    await page.getByRole('heading', { name: 'Acceptance of version 2' }).waitFor();
    await page.getByText('HSL-2-02, 2026-11-22').waitFor();
    await expectAccessible(page, 'acceptance');
    await page.getByRole('link', { name: 'its design' }).click();
    await page.getByRole('heading', { name: 'Predicted beside measured' }).waitFor();
    await expectAccessible(page, 'design with measurements');
  }, 60_000);

  it('keeps what it shows when the service is gone, and says so', async () => {
    await page.getByRole('link', { name: 'Designs' }).click();
    await page.getByRole('link', { name: 'Size 1 training ball' }).waitFor();
    await service.stop();
    await page
      .getByText(/The service does not answer\. What you see is kept/)
      .first()
      .waitFor();
    expect(await page.getByRole('link', { name: 'Size 1 training ball' }).isVisible()).toBe(true);
    await expectAccessible(page, 'dead service');
    expect(faults).toEqual([]);
  }, 60_000);
});
