import { label } from '../../openapi/field-words.ts';
import { QUANTITIES } from '../../openapi/quantities.ts';

/** A number in as many digits as are worth reading. */
export function number(value: number | null | undefined, digits = 4): string {
  if (value === null || value === undefined) return '–';
  // rounding of what is nothing
  if (Math.abs(value) < 1e-9) return '0';
  const size = Math.abs(value);
  if (size >= 1e9 || size < 1e-3) return value.toExponential(digits - 2).replaceAll('-', '−');
  // thousands parted by narrow spaces, as ISO 80000-1 has it
  return value
    .toLocaleString('en', { maximumSignificantDigits: digits, useGrouping: size >= 1e4 })
    .replaceAll(',', '\u202f')
    .replace('-', '−');
}

/** What stands at the end of a path. */
export const leaf = (value: number | string | boolean | null | undefined): string =>
  value === null || value === undefined ? '–' : typeof value === 'number' ? number(value, 6) : String(value);

/** "3 minutes ago". */
export function ago(time: string | number, now = Date.now()): string {
  const seconds = Math.round((now - new Date(time).getTime()) / 1000);
  const words = new Intl.RelativeTimeFormat('en', { numeric: 'auto' });
  if (seconds < 60) return words.format(-Math.max(0, seconds), 'second');
  if (seconds < 3600) return words.format(-Math.round(seconds / 60), 'minute');
  return seconds < 86_400 ? words.format(-Math.round(seconds / 3600), 'hour') : words.format(-Math.round(seconds / 86_400), 'day');
}

/** "2 h 5 min", "12 s". */
export function duration(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  if (seconds < 5400) return `${Math.round(seconds / 60)} min`;
  return `${Math.floor(seconds / 3600)} h ${Math.round((seconds % 3600) / 60)} min`;
}

export { axisWords, label } from '../../openapi/field-words.ts';

const NAMES = new RegExp(
  `\\b(?:${[...QUANTITIES]
    .sort((a, b) => b.length - a.length)
    .join('|')
    .replaceAll('.', '\\.')})\\b`,
  'g',
);
/** A sentence of the service with quantities named in words: "massG" is "mass". */
export const inWords = (sentence: string): string => sentence.replace(NAMES, (name) => label(name).name);

export const sized = (bytes: number): string => (bytes < 1e6 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`);
