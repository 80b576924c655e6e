import { readdirSync, readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';

const BUILT = new URL('../../dist/dashboard/', import.meta.url);
const zipped = (name: string) => gzipSync(readFileSync(new URL(name, BUILT))).length;

describe('the dashboard as it is built', () => {
  it('shows its first page with less than 300 kB, and all else when it is asked for', () => {
    const names = readdirSync(BUILT);
    const entry = names.filter((name) => /^app-[A-Z0-9]{8}\.(js|css)$/.test(name));
    expect(entry.length).toBe(2);
    const page = readFileSync(new URL('index.html', BUILT), 'utf8');
    // named by their content, so that they may be kept for good
    for (const name of entry) expect(page).toContain(`/assets/${name}`);
    // what the entry imports before anything is shown
    const needed = [
      ...readFileSync(new URL(entry.find((name) => name.endsWith('.js'))!, BUILT), 'utf8').matchAll(/(?:from|import)"\.\/([^"]+)"/g),
    ];
    const first = ['index.html', ...entry, ...needed.map(([, name]) => name)].reduce((sum, name) => sum + zipped(name), 0);
    expect(first).toBeLessThan(60_000);
    expect(names.filter((name) => /^(scene|plots|engine|openapi)-[A-Z0-9]{8}\.js$/.test(name)).length).toBe(4);
  });
});
