import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type Browser, chromium, type Page } from 'playwright-core';
import { expect } from 'vitest';

/** Where Debian's package puts it. */
const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';

export const missingBrowser = existsSync(CHROMIUM) ? null : `there is no ${CHROMIUM} here (apt-get install chromium)`;

/** Draws three dimensions without a GPU. */
export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: CHROMIUM,
    args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
  });

/** A page, and what goes wrong on it: errors, what its policy forbids, and what the console calls an error but for answers that the page itself tells of. */
export async function watchedPage(browser: Browser): Promise<{ page: Page; faults: string[] }> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' });
  page.setDefaultTimeout(25_000);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) faults.push(message.text());
  });
  return { page, faults };
}

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Finding {
  id: string;
  impact: string;
  nodes: { target: string[] }[];
}

/** No serious finding of axe on what is shown: all its rules in light, and in dark again those that look at colours. */
export async function expectAccessible(page: Page, screen: string): Promise<void> {
  for (const [colorScheme, options] of [
    ['light', {}],
    ['dark', { runOnly: ['color-contrast', 'link-in-text-block'] }],
  ] as const) {
    await page.emulateMedia({ colorScheme });
    // by the debugging protocol, as the page itself runs no code from elsewhere
    if (!(await page.evaluate('"axe" in window'))) await page.evaluate(axe);
    const { violations } = (await page.evaluate(`axe.run(${JSON.stringify({ ...options, resultTypes: ['violations'] })})`)) as {
      violations: Finding[];
    };
    const serious = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
    expect(
      serious.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`),
      `${screen}, ${colorScheme}`,
    ).toEqual([]);
  }
}
