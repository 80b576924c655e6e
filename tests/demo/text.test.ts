import { describe, expect, test } from 'vitest';
import { openProgress } from './progress.ts';
import { fixed, table, WIDTH, wrap } from './text.ts';

describe('text for a terminal', () => {
  test('wrapped text keeps its words and its width, and is indented under its first line', () => {
    const words = 'How the ball bounces and how hard it is to squeeze is not known before it is printed '.repeat(4).trim();
    const lines = wrap(words, '  1. ');
    expect(lines.length).toBeGreaterThan(3);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(WIDTH);
    expect(lines[0]).toMatch(/^ {2}1\. How/);
    for (const line of lines.slice(1)) expect(line).toMatch(/^ {5}\S/);
    expect(lines.map((line) => line.slice(5)).join(' ')).toBe(words);
  });

  test('a word that is too long for a line stands alone, whole', () => {
    expect(wrap(`a ${'x'.repeat(200)} b`, '  ')).toEqual(['  a', `  ${'x'.repeat(200)}`, '  b']);
  });

  test('a table has its columns under each other', () => {
    expect(
      table([
        ['', 'one'],
        ['mass, g', '309.7'],
      ]),
    ).toEqual(['              one', '  ───────────────', '  mass, g   309.7']);
  });

  test('a number that rounds to zero has no sign', () => {
    expect([fixed(-1e-9, 2), fixed(-0.4, 1), fixed(0, 0)]).toEqual(['0.00', '-0.4', '0']);
  });
});

describe('progress', () => {
  const drawn = (isTTY: boolean) => {
    let text = '';
    const stream = { isTTY, write: (chunk: string) => (text += chunk) } as unknown as NodeJS.WriteStream;
    const progress = openProgress(stream, 'version 1');
    for (const [stage, pct] of [
      ['queued', 0],
      ['slices', 35],
      ['slices', 50],
      ['done', 100],
    ] as const)
      progress.show(stage, pct);
    progress.end();
    return text;
  };

  test('is one plain line a stage where there is no terminal', () => {
    expect(drawn(false)).toBe('  version 1: queued, 0 %\n  version 1: slices, 35 %\n  version 1: done, 100 %\n');
  });

  test('is one line drawn over itself on a terminal, gone at the end', () => {
    const drawings = drawn(true).split('\r\x1b[K');
    expect(drawings).toHaveLength(6);
    expect(drawings.slice(1, 5).map((each) => each.replace(/[^█]/g, '').length)).toEqual([0, 11, 16, 32]);
    expect(drawings[3]).toMatch(/50 % {2}version 1: slices$/);
    expect([drawings[0], drawings[5]]).toEqual(['', '']);
  });
});
