import { ByteWriter, ParquetWriter } from 'hyparquet-writer';
import type { ExportedEvaluation } from '../prisma/index.ts';
import { type Cell, COLUMNS } from './export-columns.ts';

type Pages = AsyncIterable<readonly ExportedEvaluation[]>;

/** Media type, and how pages become bytes one after the other. */
export const FORMATS = {
  csv: { mediaType: 'text/csv; charset=utf-8', write: csv },
  ndjson: { mediaType: 'application/x-ndjson', write: ndjson },
  parquet: { mediaType: 'application/vnd.apache.parquet', write: parquet },
} as const satisfies Record<string, { mediaType: string; write: (pages: Pages) => AsyncIterable<Uint8Array | string> }>;

/** CSV as RFC 4180 has it: a header, lines that end in CR LF, quotes where they are needed. */
async function* csv(pages: Pages): AsyncGenerator<string> {
  yield line(COLUMNS.map(({ name }) => name));
  for await (const page of pages) yield page.map((each) => line(COLUMNS.map(({ of }) => of(each)))).join('');
}

const line = (cells: readonly Cell[]): string => `${cells.map(field).join(',')}\r\n`;

function field(cell: Cell): string {
  if (cell === null) return '';
  const text = String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** One JSON object a line. */
async function* ndjson(pages: Pages): AsyncGenerator<string> {
  for await (const page of pages) {
    yield page.map((each) => `${JSON.stringify(Object.fromEntries(COLUMNS.map(({ name, of }) => [name, of(each)])))}\n`).join('');
  }
}

/** Parquet, a row group for each page. What has been written is handed on, so that no more than a page is held. */
async function* parquet(pages: Pages): AsyncGenerator<Uint8Array> {
  const bytes = new ByteWriter();
  const schema = [
    { name: 'root', num_children: COLUMNS.length },
    ...COLUMNS.map(({ name, type }) =>
      type === 'number'
        ? ({ name, type: 'DOUBLE', repetition_type: 'OPTIONAL' } as const)
        : ({ name, type: 'BYTE_ARRAY', converted_type: 'UTF8', repetition_type: 'OPTIONAL' } as const),
    ),
  ];
  const writer = new ParquetWriter({ writer: bytes, schema, createdBy: 'strutwright' });
  const written = () => {
    const taken = new Uint8Array(bytes.getBytes());
    bytes.index = 0;
    return taken;
  };
  for await (const page of pages) {
    if (page.length === 0) continue;
    await writer.write({ columnData: COLUMNS.map(({ name, of }) => ({ name, data: page.map(of) })), rowGroupSize: page.length });
    yield written();
  }
  await writer.finish();
  yield written();
}
