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

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Finding {
  id: string;
  impact: string;
  nodes: { target: string[] }[];
}

/** No serious finding of axe on what is shown, in light and in dark. */
export async function expectAccessible(page: Page, screen: string): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    // without motion: colours on their way from one to the other are neither
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    // by the debugging protocol, as the page itself runs no code from elsewhere
    await page.evaluate(axe);
    const { violations } = (await page.evaluate('axe.run()')) as { violations: Finding[] };
    const serious = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
    expect(
      serious.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`),
      `${screen}, ${colorScheme}`,
    ).toEqual([]);
  }
}
