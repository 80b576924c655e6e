import type { ExportedEvaluation } from '../prisma/index.ts';
import { type Cell, COLUMNS } from './export-columns.ts';
import { parquet } from './export-parquet.ts';

/** A file made piece by piece, as bytes: what stands before all rows, what more rows add (which may be nothing yet), what stands behind them. */
export interface Pieces {
  readonly head: Uint8Array;
  rows(page: readonly ExportedEvaluation[]): Uint8Array;
  end(): Uint8Array;
}

/** CSV as RFC 4180 has it: a header, lines that end in CR LF, quotes where they are needed. */
const csv = () => lines(line(COLUMNS.map(({ name }) => name)), (each) => line(COLUMNS.map(({ of }) => of(each))));

/** One JSON object a line. */
const ndjson = () => lines('', (each) => `{${COLUMNS.map(({ of }, k) => NAMES[k] + JSON.stringify(of(each))).join(',')}}\n`);
const NAMES = COLUMNS.map(({ name }) => `${JSON.stringify(name)}:`);

/** As bytes at once: the text of a page is large, and would be moved among the old objects if it lived until it is sent. */
const lines = (head: string, lineOf: (each: ExportedEvaluation) => string): Pieces => ({
  head: Buffer.from(head),
  rows: (page) => Buffer.from(page.map(lineOf).join('')),
  end: () => Buffer.alloc(0),
});

const line = (cells: readonly Cell[]): string => `${cells.map(field).join(',')}\r\n`;

function field(cell: Cell): string {
  if (cell === null) return '';
  // the same digits as String gives, which keeps every text of a number for a while
  if (typeof cell === 'number') return JSON.stringify(cell);
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

/** Media type, and how a file of it is begun. */
export const FORMATS = {
  csv: { mediaType: 'text/csv; charset=utf-8', begin: csv },
  ndjson: { mediaType: 'application/x-ndjson', begin: ndjson },
  parquet: { mediaType: 'application/vnd.apache.parquet', begin: parquet },
} as const satisfies Record<string, { mediaType: string; begin: () => Pieces }>;
