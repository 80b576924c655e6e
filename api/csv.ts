import { type CsvError, parse } from 'csv-parse/sync';
import type { CsvColumn, CsvRow, FieldError } from '../openapi/index.ts';
import { nameList, shown } from '../openapi/index.ts';

export interface NumberedRow {
  /** As spreadsheets count: the first row below the names is 2. */
  number: number;
  cells: CsvRow;
}
export interface CsvTable {
  rows: NumberedRow[];
  errors: FieldError[];
}
export interface CsvShape {
  columns: readonly CsvColumn[];
  required: readonly CsvColumn[];
  mostRows: number;
}

/** An error of one row, by its number and column, told in words as well. */
export function rowError(number: number, column: string, { value, detail }: { value?: unknown; detail: string }): FieldError {
  const place = column ? `row ${number}, ${column}:` : `row ${number}`;
  return { pointer: column ? `/rows/${number}/${column}` : `/rows/${number}`, value: shown(value), detail: `${place} ${detail}` };
}

/** Sentences for what makes a row no CSV; the parser's own speak of its options. */
const MALFORMED: Readonly<Record<string, string>> = {
  CSV_QUOTE_NOT_CLOSED: 'opens a quotation mark that is never closed',
  CSV_INVALID_CLOSING_QUOTE: 'has text behind a closing quotation mark; allowed: a comma, or the end of the row',
  CSV_NON_TRIMABLE_CHAR_AFTER_CLOSING_QUOTE: 'has text behind a closing quotation mark; allowed: a comma, or the end of the row',
  INVALID_OPENING_QUOTE:
    'has a quotation mark inside a cell that does not begin with one; allowed: the cell in quotation marks, inner ones doubled',
};

/**
 * Reads a CSV text whose first row names columns. Rows that are empty throughout are left out but counted. Errors: names that are not known,
 * twice or missing (then there are no rows), rows with too many or too few cells, stray quotation marks, too many rows.
 */
export function readCsv(text: string, { columns, required, mostRows }: CsvShape): CsvTable {
  const errors: FieldError[] = [];
  const lines: { number: number; cells: string[] }[] = [];
  let number = 0;
  const delimiter = /^[^\r\n,]*;/.test(text) ? ';' : ',';
  try {
    parse(text, {
      ...{ delimiter, bom: true, trim: true, relax_column_count: true, skip_records_with_error: true },
      on_record: (cells: string[]) => {
        lines.push({ number: ++number, cells });
        return null;
      },
      on_skip: (error: CsvError | undefined) => {
        errors.push(malformed(++number, error?.code));
        return undefined;
      },
    });
  } catch (error) {
    errors.push(malformed(number + 1, (error as CsvError).code));
  }
  const [head, ...rest] = lines;
  const names = head?.number === 1 ? head.cells : [];
  const wrong = namesOf(names, columns, required);
  if (wrong.length > 0) return { rows: [], errors: [...errors.filter(({ pointer }) => pointer === '/rows/1'), ...wrong] };
  const filled = rest.filter(({ cells }) => cells.some((cell) => cell !== ''));
  if (filled.length > mostRows)
    errors.push(rowError(1, '', { detail: `is followed by ${filled.length} rows; allowed: at most ${mostRows}` }));
  const rows = filled.slice(0, mostRows).flatMap(({ number: at, cells }): NumberedRow[] => {
    if (cells.length === names.length) return [{ number: at, cells: cellsOf(names, cells) }];
    errors.push(rowError(at, '', { detail: `has ${cells.length} cells; required: ${names.length}, as the first row has` }));
    return [];
  });
  return { rows, errors };
}

const malformed = (number: number, code = '') => rowError(number, '', { detail: MALFORMED[code] ?? 'is no row of a CSV file' });

const cellsOf = (names: string[], cells: string[]): CsvRow =>
  Object.fromEntries(names.flatMap((name, k) => (cells[k] === '' ? [] : [[name, cells[k]]])));

function namesOf(names: string[], columns: readonly string[], required: readonly string[]): FieldError[] {
  const known = names.flatMap((name, k) => {
    const value = { value: name };
    if (!columns.includes(name))
      return [rowError(1, '', { ...value, detail: `names the column ${JSON.stringify(shown(name))}; allowed: ${nameList(columns)}` })];
    return names.indexOf(name) < k ? [rowError(1, name, { ...value, detail: 'is named twice; allowed: each column once' })] : [];
  });
  const missing = required.filter((name) => !names.includes(name));
  const lacks = missing.map((name) => rowError(1, name, { detail: `is not among the columns; required: ${required.join(', ')}` }));
  return [...known, ...lacks].slice(0, 50);
}
