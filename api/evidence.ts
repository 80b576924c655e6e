import type { MeasuredQuantity } from '../openapi/index.ts';
import type { MeasurementRecord } from '../prisma/index.ts';
import { outliersOf } from '../worker/engine/probability/index.ts';

/** Measurements that are read for one answer at most. */
export const MOST_EVIDENCE = 20_000;

/** Conditions that a number holds under; what is left out does not matter. */
export interface Conditions {
  dropHeightMm?: number;
  secantAtPct?: number;
  rollDistanceMm?: number;
}
/** What a part says of a quantity: the mean of all its readings. */
export interface Part {
  serial: string;
  value: number;
  readings: number;
}
export interface Evidence {
  parts: Part[];
  /** Readings under other conditions. */
  leftOut: number;
  measurements: MeasurementRecord[];
}

/** The conditions each quantity depends on. A part hardly notices one percent of a drop height. */
const DEPENDS_ON: Partial<Record<MeasuredQuantity, keyof Conditions>> = {
  reboundHeightMm: 'dropHeightMm',
  restitution: 'dropHeightMm',
  stiffnessNPerMm: 'secantAtPct',
  rollDeviationMm: 'rollDistanceMm',
};
const ALIKE = 0.01;

export function evidenceOf(records: readonly MeasurementRecord[], quantity: MeasuredQuantity, wanted: Conditions): Evidence {
  const depends = DEPENDS_ON[quantity];
  const asked = depends && wanted[depends];
  const bySerial = new Map<string, number[]>();
  const evidence: Evidence = { parts: [], leftOut: 0, measurements: [] };
  for (const record of records) {
    const readings = record.values.quantities[quantity];
    if (!readings || readings.length === 0) continue;
    const taken = depends && record.values.conditions[depends];
    if (asked !== undefined && taken !== undefined && Math.abs(taken - asked) > ALIKE * asked) {
      evidence.leftOut += readings.length;
      continue;
    }
    evidence.measurements.push(record);
    const { serial } = record.print;
    const before = bySerial.get(serial);
    if (before) before.push(...readings);
    else bySerial.set(serial, [...readings]);
  }
  for (const [serial, readings] of bySerial) evidence.parts.push({ serial, value: meanOf(readings), readings: readings.length });
  return evidence;
}

export const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Standard deviation with n - 1; null of a single value. */
export function deviationOf(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  const mean = meanOf(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

/** What parts say together; at least one part. */
export function summaryOf({ parts, leftOut }: Evidence) {
  const values = parts.map(({ value }) => value);
  return {
    prints: parts.length,
    readings: parts.reduce((sum, { readings }) => sum + readings, 0),
    mean: meanOf(values),
    deviation: deviationOf(values),
    min: Math.min(...values),
    max: Math.max(...values),
    outliers: outliersOf(values).map(({ index }) => parts[index].serial),
    leftOut,
  };
}
