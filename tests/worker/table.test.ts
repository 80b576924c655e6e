import { describe, expect, it } from 'vitest';
import { figures, fixed, table } from '../../worker/cli/table.ts';

describe('tables of the offline commands', () => {
  it('puts columns under each other, numbers to the right, nothing after the last', () => {
    const lines = table(
      [{ align: 'left' }, { align: 'right' }, { align: 'left' }],
      [
        ['mass', '309.870', 'g'],
        ['relative density', '12.5', '%'],
        ['nodes', '540', ''],
      ],
    );
    expect(lines).toEqual(['mass              309.870  g', 'relative density     12.5  %', 'nodes                 540']);
  });

  it('shows a number that is not there as a dash', () => {
    expect([fixed(null, 2), figures(null), figures(undefined)]).toEqual(['-', '-', '-']);
  });

  it('has no negative zero', () => {
    expect([fixed(-1e-14, 4), fixed(-0.00006, 4), fixed(-10, 0)]).toEqual(['0.0000', '-0.0001', '-10']);
  });

  it('keeps six figures', () => {
    expect([figures(0.1 + 0.2), figures(162.3), figures(1234567)]).toEqual(['0.3', '162.3', '1234570']);
  });
});
