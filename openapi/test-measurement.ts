import { z } from 'zod';
import { between, identifier, percent, timestamp } from './common.ts';
import { MEASURED_QUANTITIES, type MeasuredQuantity } from './measured-quantities.ts';
import { ofPrints, serial } from './print.ts';
import { pageQuery } from './query.ts';
import { DURATION, FORCE, LENGTH, MASS, temperature, unitOf } from './units.ts';

const MOST_READINGS = 200;
const MOST_POINTS = 2000;
const text = z.string().max(500).default('');
const reading = z.number().min(0).max(1e9);
const values = z.array(reading).min(1).max(MOST_READINGS).meta({ description: 'Repeats on the same part, one number each' });
const mass = unitOf(MASS);
const length = unitOf(LENGTH);

/** What every measurement says besides its numbers. */
const common = {
  printId: identifier.optional().meta({ description: 'The part measured: this or `serial`' }),
  serial: serial.optional(),
  measuredAt: timestamp,
  instrument: text,
  method: text,
  standard: text.meta({ description: 'Standard that the method follows, with its edition' }),
  operator: z
    .string()
    .regex(/^\p{Lu}{1,4}$/u, 'one to four capital letters')
    .nullable()
    .default(null)
    .meta({ description: 'Initials only', examples: ['KB'] }),
  conditioning: z
    .strictObject({
      hours: between(0, 10_000).nullable().default(null),
      temperature: temperature.nullable().default(null),
      humidityPct: percent.nullable().default(null),
    })
    .nullable()
    .default(null)
    .meta({ description: 'How the part was kept before the test' }),
  temperature: temperature.nullable().default(null).meta({ description: 'During the test' }),
  notes: text,
};

const dropHeight = between(1e-3, 1e6).meta({ description: "Of the part's lowest point, in `unit`" });
const dropped = { dropHeight, surface: text.meta({ description: 'What it falls on', examples: ['granite plate'] }) };

const axis = z.strictObject({
  axis: z
    .string()
    .trim()
    .min(1)
    .max(60)
    .meta({ examples: ['seam', 'x'] }),
  values,
});
const curve = z
  .array(z.tuple([between(-1e6, 1e6), between(-1e9, 1e9)]))
  .min(3)
  .max(MOST_POINTS)
  .meta({ description: 'Loading, [deflection, force] each; deflection 0 where both plates just touch, increasing' });
const bounces = z
  .array(reading)
  .min(1)
  .max(20)
  .meta({ description: 'Height of each bounce one after the other, of the lowest point, in `unit`' });

const KINDS = [
  z.strictObject({ kind: z.literal('mass'), unit: mass, values, ...common }),
  z.strictObject({ kind: z.literal('circumference'), unit: length, values, ...common }).meta({ description: 'Of a tape' }),
  z
    .strictObject({ kind: z.literal('diameter'), unit: length, axes: z.array(axis).min(1).max(50), ...common })
    .meta({ description: 'On several axes' }),
  z.strictObject({
    kind: z.literal('roundness'),
    unit: length,
    values,
    referenceCircle: z.enum(['LSCI', 'MZCI', 'MICI', 'MCCI']).default('LSCI').meta({ description: 'ISO 12181' }),
    ...common,
  }),
  z
    .strictObject({
      kind: z.literal('compression'),
      unit: length.meta({ description: 'Of deflections' }),
      forceUnit: unitOf(FORCE),
      curves: z.array(curve).min(1).max(20),
      secantAtPct: between(0.1, 60).default(10).meta({ description: 'Where the secant is taken, percent of the outside diameter' }),
      ...common,
    })
    .meta({ description: 'Between two rigid plates, slowly: stiffness from the curve' }),
  z
    .strictObject({
      kind: z.literal('rebound'),
      unit: length,
      ...dropped,
      drops: z
        .array(z.strictObject({ orientation: z.string().max(60).default('').meta({ description: 'What points down' }), bounces }))
        .min(1)
        .max(MOST_READINGS),
      ...common,
    })
    .meta({ description: 'Dropped on a rigid floor' }),
  z.strictObject({ kind: z.literal('contact-time'), unit: unitOf(DURATION), values, ...common }),
  z.strictObject({ kind: z.literal('peak-force'), unit: unitOf(FORCE), values, ...common }),
  z
    .strictObject({ kind: z.literal('balance'), unit: length, values, ...common })
    .meta({ description: 'Offset of the centre of mass from the middle' }),
  z
    .strictObject({
      kind: z.literal('roll'),
      unit: length,
      distance: between(1e-3, 1e6).meta({ description: 'Length of the way, in `unit`' }),
      values: values.meta({ description: 'Deviation from the straight line at its end, without sign, in `unit`' }),
      ...common,
    })
    .meta({ description: 'Rolled over a flat floor' }),
  z
    .strictObject({
      kind: z.literal('durability'),
      counted: z.enum(['cycles', 'impacts']),
      count: z.int().min(0).max(1e12).meta({ description: 'Until the first crack, or until the test was stopped' }),
      cracked: z.boolean().meta({ description: 'false: the test was stopped before anything cracked' }),
      load: text.meta({ description: 'What each cycle or impact was', examples: ['drop from 1800 mm'] }),
      place: text.meta({ description: 'Where it cracked first' }),
      photo: z
        .strictObject({
          reference: z.string().min(1).max(500).meta({ description: 'Where the picture is kept' }),
          sha256: z
            .string()
            .regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits')
            .nullable()
            .default(null),
        })
        .nullable()
        .default(null),
      ...common,
    })
    .meta({ description: 'Beaten until it breaks, one part' }),
] as const;

/** Exactly one of the two ways to say which part. */
function namesOnePart(value: { printId?: string; serial?: string }, context: z.RefinementCtx): void {
  const { printId, serial: mark } = value;
  if ((printId === undefined) === (mark === undefined)) {
    const message =
      printId === undefined ? 'names no part; required: printId or serial' : 'names the part twice; allowed: printId or serial';
    context.addIssue({ code: 'custom', path: printId === undefined ? [] : ['serial'], input: mark ?? value, message });
  }
}

export const testMeasurementBody = z
  .discriminatedUnion('kind', KINDS)
  .superRefine(namesOnePart)
  .meta({ id: 'TestMeasurementBody', description: 'One test of one printed part, in the units it was read in' });
export type TestMeasurementBody = z.infer<typeof testMeasurementBody>;
export type TestKind = TestMeasurementBody['kind'];
export const TEST_KINDS = KINDS.map((each) => each.shape.kind.value) as [TestKind, ...TestKind[]];

const numbers = z.array(z.number());
/** Numbers in the units of the contract, by quantity; what of them holds for one drop height or one secant alone. */
export const measuredValues = z
  .strictObject({
    quantities: z.partialRecord(z.enum(MEASURED_QUANTITIES), numbers),
    conditions: z.strictObject({
      dropHeightMm: z.number().optional(),
      secantAtPct: z.number().optional(),
      rollDistanceMm: z.number().optional(),
      temperatureC: z.number().optional(),
    }),
    restitutionByBounce: z
      .array(numbers)
      .optional()
      .meta({ description: 'Of each drop, of each of its bounces: sqrt of its height over the height before it' }),
  })
  .meta({ id: 'MeasuredValues', description: 'The readings in the units that the names of the quantities carry' });
export interface MeasuredValues {
  quantities: Partial<Record<MeasuredQuantity, number[]>>;
  conditions: { dropHeightMm?: number; secantAtPct?: number; rollDistanceMm?: number; temperatureC?: number };
  restitutionByBounce?: number[][];
}

const outlier = z
  .strictObject({
    quantity: z.enum(MEASURED_QUANTITIES),
    index: z.int().meta({ description: 'Place among the readings of the quantity, from 0' }),
    value: z.number(),
    statistic: z.number().meta({ description: 'Distance from the mean over the standard deviation' }),
    critical: z.number().meta({ description: 'Largest distance that chance explains at 5 %' }),
  })
  .meta({
    id: 'Outlier',
    description: 'Flagged by the test of Grubbs (1969), from 15 readings on by that of Rosner (1983); never left out',
  });
export type Outlier = z.infer<typeof outlier>;

export const testMeasurement = z
  .strictObject({
    id: identifier,
    printId: identifier,
    serial,
    designId: identifier,
    versionId: identifier,
    version: z.int().min(1),
    kind: z.enum(TEST_KINDS),
    measuredAt: timestamp,
    given: z.discriminatedUnion('kind', KINDS).meta({ description: 'As it was given, with its units' }),
    values: measuredValues,
    outliers: z.array(outlier),
    createdAt: timestamp,
    archivedAt: timestamp.nullable(),
  })
  .meta({ id: 'TestMeasurement', description: 'One test of one printed part' });
export type TestMeasurement = z.infer<typeof testMeasurement>;

export const testMeasurementQuery = pageQuery.extend({
  ...ofPrints,
  printId: identifier.optional(),
  serial: serial.optional(),
  kind: z.enum(TEST_KINDS).optional(),
  archived: z.enum(['false', 'true']).default('false').meta({ description: 'true: archived ones only' }),
});
export type TestMeasurementQuery = z.infer<typeof testMeasurementQuery>;
