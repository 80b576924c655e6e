import { exampleParameterSet } from '../../openapi/examples.ts';
import { CSV_COLUMNS, type CsvRow } from '../../openapi/index.ts';
import { onOwnDatabase } from './database.ts';
import { checksumOf, type Row } from './row.ts';
import { BEARER, served } from './served.ts';

const ROWS = 10_000;
const PARTS = 200;
const FILES = 3;
const MOST_MS = 5000;

/** A file of measurements posted to the real API over the embedded database: read, checked, kept. */
export const measurementImportRow = (): Promise<Row> => onOwnDatabase((databaseUrl) => served(databaseUrl, ({ base }) => measured(base)));

async function measured(base: string): Promise<Row> {
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
  const headers = { ...BEARER, 'content-type': text ? 'text/csv' : 'application/json' };
  const answer = await fetch(url, { method: 'POST', headers, body: text ? body : JSON.stringify(body) });
  if (!answer.ok) throw new Error(`${url} answered ${answer.status}: ${(await answer.text()).slice(0, 500)}`);
  return (await answer.json()) as { id: string; created: number };
}
