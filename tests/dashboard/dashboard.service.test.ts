import { readdirSync, readFileSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Started, startService } from '../api/start-process.ts';
import { expectAccessible, missingBrowser, openBrowser } from './browser.ts';

const BUILT = new URL('../../dist/dashboard/', import.meta.url);
const zipped = (name: string) => gzipSync(readFileSync(new URL(name, BUILT))).length;

describe('the dashboard as it is built', () => {
  it('shows its first page with less than 300 kB, and all else when it is asked for', () => {
    const first = ['index.html', 'app.css', 'app.js'].reduce((sum, name) => sum + zipped(name), 0);
    expect(first).toBeLessThan(60_000);
    const later = readdirSync(BUILT).filter((name) => /-[A-Z0-9]{8}\.js$/.test(name));
    expect(later.length).toBeGreaterThanOrEqual(4);
  });
});

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
      if (message.type() === 'error' && !/40[0-9]|503|net::/.test(message.text())) faults.push(message.text());
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
    await expect.poll(() => page.getByRole('row').count(), { timeout: 10_000 }).toBe(3);
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
