#!/usr/bin/env node
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const built = new URL('../dist/worker/cli/main.js', import.meta.url);
if (existsSync(fileURLToPath(built))) {
  const { main } = await import(built.href);
  process.exitCode = await main(process.argv.slice(2));
} else {
  process.stderr.write('strutwright is not built yet: run "npm run build" first.\n');
  process.exitCode = 1;
}
