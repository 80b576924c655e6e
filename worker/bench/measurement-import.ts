import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { exampleParameterSet } from '../../openapi/examples.ts';
import { CSV_COLUMNS, type CsvRow } from '../../openapi/index.ts';
import { migrate, startEmbedded } from '../../prisma/index.ts';
import { checksumOf, type Row } from './row.ts';

const ROWS = 10_000;
const PARTS = 200;
const FILES = 3;
const MOST_MS = 5000;
const KEY = 'bench-key-of-this-run-alone';
const START_MS = 60_000;

/** A file of measurements posted to the real API over the embedded database: read, checked, kept. */
export async function measurementImportRow(): Promise<Row> {
  const dataDir = await mkdtemp(join(tmpdir(), 'strutwright-bench-'));
  const { databaseUrl, stop } = await startEmbedded({ dataDir });
  try {
    await migrate(databaseUrl);
    const port = await freePort();
    const api = spawn(process.execPath, [new URL('../../api/main.js', import.meta.url).pathname], {
      env: { DATABASE_URL: databaseUrl, PORT: String(port), DATA_DIR: dataDir, BOOTSTRAP_API_KEY: KEY, LOG_LEVEL: 'silent' },
      stdio: 'ignore',
    });
    try {
      return await measured(`http://127.0.0.1:${port}`);
    } finally {
      await ended(api);
    }
  } finally {
    await stop();
    await rm(dataDir, { recursive: true, force: true });
  }
}

async function measured(base: string): Promise<Row> {
  await ready(base);
  const { id: designId } = await post(`${base}/v1/designs`, { name: 'bench' });
  const { id: versionId } = await post(`${base}/v1/designs/${designId}/versions`, { parameterSet: exampleParameterSet });
  const copies = Array.from({ length: PARTS }, (_, k) => ({ serial: `B-${k}` }));
  const made = { lot: { name: 'bench' }, build: 'bench', printedOn: '2027-02-03', material: 'tpu-soft', buildVolume: 'medium-polymer' };
  await post(`${base}/v1/prints`, { ...made, versionId, copies });
  const times: number[] = [];
  let created = 0;
  for (let file = 0; file < FILES; file++) {
    const text = csvOf(file);
    const started = performance.now();
    created += (await post(`${base}/v1/measurements/import`, text)).created;
    times.push(performance.now() - started);
  }
  times.sort((a, b) => a - b);
  return {
    ...{ minMs: times[0], medianMs: times[1], maxMs: times[2] },
    name: 'file of measurements: read, checked, kept',
    input: `${ROWS} rows of mass, rebound and diameter on ${PARTS} parts, ${(csvOf(0).length / 1e6).toFixed(1)} MB, over HTTP into the embedded PostgreSQL; ${FILES} files`,
    checksum: checksumOf([created]),
    ...{ asked: `at most ${MOST_MS / 1000} s`, met: times[1] <= MOST_MS && created === FILES * ROWS },
  };
}

/** Rows unlike those of any other file. */
function csvOf(file: number): string {
  const kinds: CsvRow[] = [
    { kind: 'mass', unit: 'g', values: '310.2 310.4 310.3' },
    { kind: 'rebound', unit: 'cm', values: '112.5 71.2 45.1', dropHeight: '180', orientation: 'pentagon' },
    { kind: 'diameter', unit: 'mm', values: '162.2 162.3', axis: 'seam' },
  ];
  const rows = Array.from({ length: ROWS }, (_, k): CsvRow => {
    const measuredAt = new Date(Date.UTC(2027, 1, 5) + 1000 * (file * ROWS + k)).toISOString();
    return { serial: `B-${k % PARTS}`, version: '1', measuredAt, operator: 'KB', instrument: 'bench', ...kinds[k % kinds.length] };
  });
  return [CSV_COLUMNS, ...rows.map((cells) => CSV_COLUMNS.map((name) => cells[name] ?? ''))].map((cells) => cells.join(',')).join('\n');
}

/** Answers what the service did; text goes as CSV. */
async function post(url: string, body: object | string) {
  const text = typeof body === 'string';
  const headers = { authorization: `Bearer ${KEY}`, 'content-type': text ? 'text/csv' : 'application/json' };
  const answer = await fetch(url, { method: 'POST', headers, body: text ? body : JSON.stringify(body) });
  if (!answer.ok) throw new Error(`${url} answered ${answer.status}: ${(await answer.text()).slice(0, 500)}`);
  return (await answer.json()) as { id: string; created: number };
}

async function ready(base: string): Promise<void> {
  for (const until = performance.now() + START_MS; performance.now() < until; await pause(100)) {
    const answer = await fetch(`${base}/readyz`).catch(() => null);
    if (answer?.ok) return;
  }
  throw new Error(`The API did not start within ${START_MS / 1000} s`);
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as { port: number };
  server.close();
  await once(server, 'close');
  return port;
}

async function ended(api: ChildProcess): Promise<void> {
  if (api.exitCode !== null) return;
  api.kill('SIGTERM');
  await once(api, 'exit');
}
