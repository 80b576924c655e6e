import { setImmediate as others } from 'node:timers/promises';
import {
  bodyOfRow,
  CSV_COLUMNS,
  CSV_TEMPLATE,
  columnAt,
  type FieldError,
  MOST_ROWS,
  measuredValuesOf,
  REQUIRED_COLUMNS,
  testMeasurementBody,
  validate,
} from '../openapi/index.ts';
import type { NewMeasurement, PrintRecord, Records } from '../prisma/index.ts';
import { type NumberedRow, readCsv, rowError } from './csv.ts';
import type { Handlers } from './handlers.ts';
import { flagged } from './measurements.ts';
import { Refusal } from './refusal.ts';

type Operation = 'importMeasurements' | 'getMeasurementTemplate';

/** Errors that are told of one file; the rest is counted. */
const MOST_TOLD = 100;
/** Rows between which other requests have their turn. */
const AT_ONCE = 250;

/** A file of measurements, kept as a whole or not at all. */
export function importHandlers({ prints, measurements }: Pick<Records, 'prints' | 'measurements'>): Handlers<Operation> {
  return {
    importMeasurements: async ({ body, query, caller: { teamId } }) => {
      const dryRun = query.dryRun === 'true';
      const { rows, errors } = readCsv(body, { columns: CSV_COLUMNS, required: REQUIRED_COLUMNS, mostRows: MOST_ROWS });
      if (rows.length === 0 && errors.length === 0)
        errors.push(rowError(2, '', { detail: 'is missing; required: a row of a measurement' }));
      const serials = [...new Set(rows.flatMap(({ cells: { serial } }) => serial ?? []))];
      const known = new Map((await prints.find(teamId, { ids: [], serials })).map((print) => [print.serial, print]));
      const report = reportOf(errors);
      const read = await readRows(rows, known, report);
      for (const k of await measurements.known(
        teamId,
        read.map(({ measurement }) => measurement),
      ))
        report.refuse(read[k].number, [rowError(read[k].number, '', { detail: KNOWN })]);
      report.end(rows.length);
      if (!dryRun)
        await measurements.create(
          teamId,
          read.map(({ measurement }) => measurement),
        );
      const outliers = read.reduce((sum, { measurement }) => sum + flagged(measurement.values.quantities).length, 0);
      return { body: { rows: rows.length, created: dryRun ? 0 : read.length, dryRun, outliers } };
    },
    getMeasurementTemplate: async () => ({
      body: CSV_TEMPLATE,
      headers: { 'content-type': 'text/csv; charset=utf-8', 'content-disposition': 'attachment; filename="measurements.csv"' },
    }),
  };
}

const KNOWN =
  'is a measurement that is kept already, or that an earlier row holds; allowed: the same numbers of the same part at the same time once';

interface Report {
  isFull(): boolean;
  /** A row that is refused, with its errors as far as they are told. */
  refuse(number: number, errors: FieldError[]): void;
  /** Throws the refusal where there is one. */
  end(rows: number): void;
}

function reportOf(first: FieldError[]): Report {
  const told = first.slice(0, MOST_TOLD);
  const refused = new Set(first.map(({ pointer }) => pointer.split('/')[2]));
  return {
    isFull: () => told.length >= MOST_TOLD,
    refuse: (number, errors) => {
      refused.add(String(number));
      told.push(...errors.slice(0, MOST_TOLD - told.length));
    },
    end: (rows) => {
      if (refused.size === 0) return;
      const order = ({ pointer }: FieldError) => Number(pointer.split('/')[2]);
      const errors = told.sort((a, b) => order(a) - order(b));
      const cut = errors.length < MOST_TOLD ? '' : `; the first ${MOST_TOLD} errors are told, there may be more`;
      const detail = `${refused.size} of ${rows} rows are refused, and nothing of the file is kept${cut}`;
      throw new Refusal('invalid-body', { detail, errors });
    },
  };
}

interface ReadRow {
  number: number;
  measurement: NewMeasurement;
}

/** The measurements of the rows that are good; of the others the errors go to the report. Lets others have their turn now and then. */
async function readRows(rows: NumberedRow[], known: ReadonlyMap<string, PrintRecord>, report: Report): Promise<ReadRow[]> {
  const read: ReadRow[] = [];
  for (const [k, row] of rows.entries()) {
    if (k % AT_ONCE === AT_ONCE - 1) await others();
    const measurement = readRow(row, known, report);
    if (measurement) read.push({ number: row.number, measurement });
  }
  return read;
}

function readRow({ number, cells }: NumberedRow, known: ReadonlyMap<string, PrintRecord>, report: Report): NewMeasurement | null {
  const { version, ...rest } = cells;
  const body = bodyOfRow(rest);
  const parsed = testMeasurementBody.safeParse(body);
  const refuse = (errors: FieldError[]) => {
    report.refuse(number, errors);
    return null;
  };
  if (!parsed.success) {
    // What is wrong in words is worth the time only where it is told.
    if (report.isFull()) return refuse([]);
    const told = validate(testMeasurementBody, body);
    return refuse(told.ok ? [] : told.errors.map((error) => rowError(number, columnAt(error.pointer), inRow(error))));
  }
  const print = known.get(parsed.data.serial ?? '');
  if (!print)
    return refuse([
      rowError(number, 'serial', {
        value: cells.serial,
        detail: `is ${JSON.stringify(cells.serial)}; allowed: the serial of a print of the team`,
      }),
    ]);
  if (version !== undefined && version !== String(print.version)) {
    const detail = `is ${JSON.stringify(version)}, but ${print.serial} is of version ${print.version}; allowed: that, or nothing`;
    return refuse([rowError(number, 'version', { value: version, detail })]);
  }
  const values = measuredValuesOf(parsed.data, print);
  if (!values.ok) return refuse(values.errors.map((error) => rowError(number, columnAt(error.pointer), error)));
  return { printId: print.id, given: parsed.data, values: values.value };
}

/** A number with a decimal comma is told what it lacks. */
const inRow = ({ value, detail }: FieldError) => ({
  value,
  detail: typeof value === 'string' && /^-?\d+,\d+$/.test(value) ? `${detail} (with a decimal point)` : detail,
});
