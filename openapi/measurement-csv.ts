import { z } from 'zod';
import { exampleTestMeasurementBody } from './test-house-examples.ts';

/** One row of a CSV file is one measurement. */
export const MOST_ROWS = 20_000;
export const LARGEST_CSV = 8 * 1_048_576;

/** Columns of the file; a row leaves empty what its kind does not take. */
export const CSV_COLUMNS = [
  ...['serial', 'version', 'kind', 'measuredAt', 'unit', 'forceUnit', 'values', 'axis', 'dropHeight', 'secantAtPct', 'distance'],
  ...['orientation', 'surface', 'referenceCircle', 'counted', 'cracked', 'load', 'place', 'photo', 'instrument', 'method', 'standard'],
  ...['operator', 'temperature', 'temperatureUnit', 'conditioningHours', 'conditioningTemperature', 'conditioningHumidityPct', 'notes'],
] as const;
export type CsvColumn = (typeof CSV_COLUMNS)[number];
export const REQUIRED_COLUMNS: readonly CsvColumn[] = ['serial', 'kind', 'measuredAt', 'values'];
/** Cells of one row that are not empty. */
export type CsvRow = Partial<Record<CsvColumn, string>>;

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
/** A decimal number is read as one; anything else stays text, for the schema to refuse. */
const read = (cell: string): unknown => (NUMBER.test(cell) ? Number(cell) : cell);
const words = (cell = '') => cell.split(/\s+/).filter(Boolean);
const CRACKED: Readonly<Record<string, boolean>> = { yes: true, true: true, no: false, false: false };

const CONDITIONING = ['conditioningHours', 'conditioningTemperature', 'conditioningHumidityPct'] as const;
/** Where cells of the row go that have fields of the same name. */
const PLAIN = ['serial', 'kind', 'measuredAt', 'unit', 'forceUnit', 'dropHeight', 'secantAtPct', 'distance', 'surface'] as const;
const TEXTS = ['referenceCircle', 'counted', 'load', 'place', 'instrument', 'method', 'standard', 'operator', 'notes'] as const;
const NUMBERS: readonly string[] = ['dropHeight', 'secantAtPct', 'distance'];

/** The numbers of a row, as its kind takes them. */
function readings({ kind, values, axis, orientation }: CsvRow): object {
  const list = words(values).map(read);
  const pair = (word: string) => word.split(':').map(read);
  if (kind === 'diameter') return { axes: [{ axis: axis ?? 'not said', values: list }], orientation };
  if (kind === 'rebound') return { drops: [{ orientation, bounces: list }], axis };
  if (kind === 'compression') return { curves: [words(values).map(pair)], axis, orientation };
  if (kind === 'durability') return { count: list.length === 1 ? list[0] : values, axis, orientation };
  return { values: list, axis, orientation };
}

/** A row as the body that a POST of the same measurement has; nothing is checked yet. */
export function bodyOfRow(row: CsvRow): unknown {
  const { temperatureUnit: unit = 'degC', temperature, cracked, photo } = row;
  const same = [...PLAIN, ...TEXTS].map((name) => [name, NUMBERS.includes(name) && row[name] ? read(row[name]) : row[name]]);
  const degrees = (cell: string | undefined) => (cell === undefined ? undefined : { value: read(cell), unit });
  const [hours, kept, humidityPct] = CONDITIONING.map((name) => row[name]);
  const conditioning = { hours: hours && read(hours), temperature: degrees(kept), humidityPct: humidityPct && read(humidityPct) };
  const body = {
    ...Object.fromEntries(same),
    ...readings(row),
    cracked: cracked === undefined ? undefined : (CRACKED[cracked.toLowerCase()] ?? cracked),
    photo: photo === undefined ? undefined : { reference: photo },
    temperature: degrees(temperature),
    conditioning: CONDITIONING.some((name) => row[name] !== undefined) ? conditioning : undefined,
  };
  return withoutGaps(body);
}

/** Fields that are undefined are not there, at every level. */
function withoutGaps(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutGaps);
  if (typeof value !== 'object' || value === null) return value;
  const members = Object.entries(value).filter(([, member]) => member !== undefined);
  return Object.fromEntries(members.map(([name, member]) => [name, withoutGaps(member)]));
}

const COLUMN_OF: readonly (readonly [RegExp, CsvColumn])[] = [
  [/^\/axes\/0\/axis/, 'axis'],
  [/^\/drops\/0\/orientation/, 'orientation'],
  [/^\/(values|axes|drops|curves|count$)/, 'values'],
  [/^\/conditioning\/hours/, 'conditioningHours'],
  [/^\/conditioning\/humidity/, 'conditioningHumidityPct'],
  [/^\/(conditioning\/)?temperature\/unit/, 'temperatureUnit'],
  [/^\/conditioning\/temperature/, 'conditioningTemperature'],
  [/^\/printId/, 'serial'],
];

/** The column that the field at a pointer of the body came from; empty for the row as a whole. */
export function columnAt(pointer: string): CsvColumn | '' {
  const known = COLUMN_OF.find(([pattern]) => pattern.test(pointer));
  if (known) return known[1];
  const [, name] = pointer.split('/');
  return (CSV_COLUMNS as readonly string[]).includes(name) ? (name as CsvColumn) : '';
}

const row = (cells: CsvRow) => CSV_COLUMNS.map((name) => cells[name] ?? '').join(',');
const EXAMPLES: readonly CsvRow[] = [
  { kind: 'mass', unit: 'g', values: '310.2 310.4 310.3', instrument: 'scale 0.1 g' },
  { kind: 'circumference', unit: 'mm', values: '510 511', instrument: 'tape' },
  { kind: 'diameter', unit: 'mm', values: '162.2 162.3', axis: 'seam' },
  { kind: 'roundness', unit: 'mm', values: '0.6', referenceCircle: 'LSCI' },
  { kind: 'compression', unit: 'mm', forceUnit: 'N', values: '0:0 0.8:14 1.6:29 8:150 16.5:330', secantAtPct: '10' },
  { kind: 'rebound', unit: 'cm', values: '112.5 71.2', dropHeight: '180', orientation: 'pentagon', surface: 'granite plate' },
  { kind: 'contact-time', unit: 'ms', values: '14.1 14.3' },
  { kind: 'peak-force', unit: 'N', values: '820 835' },
  { kind: 'balance', unit: 'mm', values: '0.4' },
  { kind: 'roll', unit: 'm', values: '0.12 0.09', distance: '5' },
  {
    kind: 'durability',
    values: '5200',
    counted: 'impacts',
    cracked: 'yes',
    load: 'drop from 1800 mm',
    place: 'strut 12',
    photo: 'album/14',
  },
];

/** A file to fill in: the columns, and an invented row of each kind. */
export const CSV_TEMPLATE = [
  CSV_COLUMNS.join(','),
  ...EXAMPLES.map((cells) =>
    row({ serial: 'HSL-1-01', version: '1', measuredAt: exampleTestMeasurementBody.measuredAt, ...cells, notes: 'invented: replace' }),
  ),
  '',
].join('\r\n');

export const importQuery = z.strictObject({
  dryRun: z.enum(['false', 'true']).default('false').meta({ description: 'true: checks every row and keeps nothing' }),
});

export const importBody = z
  .string()
  .min(1)
  .meta({
    description: `CSV (RFC 4180) in UTF-8 with a first row of column names, at most ${MOST_ROWS} rows; cells are parted by commas, or by semicolons if the first row is. Columns: ${CSV_COLUMNS.join(', ')}. \`values\` holds readings parted by spaces: the bounces of one drop, deflection:force pairs of a curve, or a count`,
  });

export const importReport = z
  .strictObject({
    rows: z.int().meta({ description: 'Rows below the first' }),
    created: z.int().meta({ description: 'Measurements that were kept: all or, in a dry run, none' }),
    dryRun: z.boolean(),
    outliers: z.int().meta({ description: 'Readings flagged among the repeats of their row' }),
  })
  .meta({ id: 'ImportReport', description: 'Every row is good; a file with a bad row is refused, and nothing of it kept' });
export type ImportReport = z.infer<typeof importReport>;
