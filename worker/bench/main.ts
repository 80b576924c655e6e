import { cpus } from 'node:os';
import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { batchRows } from './batch.ts';
import { compressionRow } from './compression.ts';
import { evaluationRow } from './evaluation.ts';
import { fullRow } from './full.ts';
import { historyRow } from './history.ts';
import { impactRows } from './impact.ts';
import { growthRow, largestRow } from './largest.ts';
import { learntRows } from './learnt.ts';
import { massPropertyRows } from './mass-properties.ts';
import { measurementImportRow } from './measurement-import.ts';
import { printedPartRows } from './printed-parts.ts';
import { type Row, tableOf } from './row.ts';
import { serviceRow } from './service.ts';
import { sparseRows } from './sparse.ts';
import { surfaceMeshRow } from './surface-mesh.ts';

/**
 * All benchmarks, one after the other, or those whose functions are named as arguments (`npm run bench -- batchRows`); `--json` prints each row as a
 * line of JSON, else a table is printed at the end.
 */
const asJson = process.argv.includes('--json');
const named = process.argv.slice(2).filter((each) => !each.startsWith('--'));
const tell = (text: string) => void process.stdout.write(`${text}\n`);
const cases: readonly (() => Promise<Row | Row[]>)[] = [
  surfaceMeshRow,
  massPropertyRows,
  sparseRows,
  impactRows,
  compressionRow,
  evaluationRow,
  fullRow,
  printedPartRows,
  growthRow,
  largestRow,
  serviceRow,
  batchRows,
  historyRow,
  measurementImportRow,
  learntRows,
];

const machine = { engineVersion: ENGINE_VERSION, node: process.version, processor: cpus()[0]?.model ?? 'unknown', cores: cpus().length };
if (asJson) tell(JSON.stringify(machine));
const rows: Row[] = [];
for (const measure of cases.filter(({ name }) => named.length === 0 || named.includes(name))) {
  const measured = [await measure()].flat();
  if (asJson) for (const row of measured) tell(JSON.stringify(row));
  rows.push(...measured);
}
if (!asJson)
  tell(
    `${Object.entries(machine)
      .map(([name, value]) => `${name} ${value}`)
      .join(', ')}\n\n${tableOf(rows)}`,
  );
