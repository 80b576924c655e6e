import { createHash } from 'node:crypto';
import type { CalibrationInput, FileOrder, ResolvedInput, SurfaceInput, TrayInput } from '../openapi/index.ts';

/** What a record says about itself and no number depends on. */
const LABELS = new Set(['source', 'key', 'revision', 'builtIn', 'edition', 'status']);

/** JSON with sorted keys and no spaces; numbers as JSON.stringify writes them; undefined members left out, as JSON does. */
function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((item) => canonicalJson(item ?? null)).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const members = Object.entries(value).filter(([, member]) => member !== undefined);
  members.sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${members.map(([name, member]) => `${JSON.stringify(name)}:${canonicalJson(member)}`).join(',')}}`;
}

/** Came after records had been stored without them: null and absent say the same, and have one hash. */
const LATER = new Set(['relaxation', 'temperatureC', 'byTemperature', 'directionFactors', 'strutGrowthMm', 'jointFactor', 'calibration']);

const counts = ([name, value]: [string, unknown]) => !LABELS.has(name) && !(value === null && LATER.has(name));
const withoutLabels = (record: object | null) => record && Object.fromEntries(Object.entries(record).filter(counts));

/** "sha256:<hex>" over the canonical JSON of any value: the same for the same content, however its members are ordered. */
export const contentHash = (value: unknown): string => `sha256:${createHash('sha256').update(canonicalJson(value)).digest('hex')}`;

/**
 * "sha256:<hex>" over the canonical JSON of an input, without the labels of its records: two inputs that give the same numbers under the
 * same engine have the same hash whatever their records are called and whether they were posted inline or by key.
 */
export function inputHash(input: ResolvedInput): string {
  const { material, buildVolume, reference } = input;
  const unlabelled = { material: withoutLabels(material), buildVolume: withoutLabels(buildVolume), reference: withoutLabels(reference) };
  return contentHash({ ...input, ...unlabelled });
}

/** The same with the labels: what tells two requests apart that ask for the same computation. */
export const requestHash = (input: ResolvedInput): string => contentHash(input);

/** The hash of a tray's input, unlike that of any evaluation. Records with other labels make another tray, which costs one more computation. */
export const trayHash = (input: TrayInput): string => contentHash({ kind: 'tray', ...input });

/** The hash of a calibration's input. */
export const calibrationHash = (input: CalibrationInput): string => contentHash({ kind: 'calibration', ...input });

/** The hash of a surface's input: its points are part of it. */
export const surfaceHash = (input: SurfaceInput): string => contentHash({ kind: 'surface', ...input });

/** The hash of a file to be made of an evaluation's computation. */
export const fileHash = (of: string, order: FileOrder): string => contentHash({ kind: 'file', of, order });
