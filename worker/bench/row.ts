import { createHash } from 'node:crypto';
import type { Spread } from './clock.ts';

/** One line of the benchmark's table. */
export interface Row extends Spread {
  readonly name: string;
  /** What was worked on, so that another can do the same. */
  readonly input: string;
  /** Of the result, so that a faster wrong answer is seen. */
  readonly checksum: string;
  /** Figures beside the times, in words: the peer and how many times slower it is, memory, parts of the time. */
  readonly beside?: string;
  /** What is asked for, and whether it was met. */
  readonly asked?: string;
  readonly met?: boolean;
}

/** First digits of a hash over numbers, rounded to nine significant digits. */
export function checksumOf(numbers: Iterable<number>): string {
  const hash = createHash('sha256');
  for (const each of numbers) hash.update(`${each.toPrecision(9)}\n`);
  return hash.digest('hex').slice(0, 8);
}

export const shownMs = (ms: number): string => (ms >= 1000 ? `${(ms / 1000).toFixed(2)} s` : `${ms.toPrecision(3)} ms`);

/** The rows as text in columns; what does not fit a column stands on lines below it. */
export function tableOf(rows: readonly Row[]): string {
  const lines = rows.flatMap((row) => {
    const verdict = row.asked === undefined ? '' : `${row.met ? 'met' : 'MISSED'}: ${row.asked}`;
    const times = [row.minMs, row.medianMs, row.maxMs].map((ms) => shownMs(ms).padStart(9)).join(' ');
    const more = [row.input, row.beside, verdict].filter((text): text is string => text !== undefined && text !== '');
    return [`${row.name.padEnd(52)} ${times}  ${row.checksum}`, ...more.map((text) => `    ${text}`)];
  });
  const head = `${'case'.padEnd(52)} ${['min', 'median', 'max'].map((name) => name.padStart(9)).join(' ')}  checksum`;
  return [head, '-'.repeat(head.length), ...lines].join('\n');
}
