export interface Column {
  align: 'left' | 'right';
}

/** Rows of text as lines, each column as wide as its widest cell, two spaces between columns, nothing after the last. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string[] {
  const widths = columns.map((_, k) => Math.max(0, ...rows.map((row) => row[k]?.length ?? 0)));
  return rows.map((row) =>
    columns
      .map(({ align }, k) => (align === 'right' ? (row[k] ?? '').padStart(widths[k]) : (row[k] ?? '').padEnd(widths[k])))
      .join('  ')
      .trimEnd(),
  );
}

/** A number with this many decimals, never a negative zero; "-" for none. */
export const fixed = (value: number | null | undefined, decimals: number): string =>
  value === null || value === undefined ? '-' : value.toFixed(decimals).replace(/^-(?=[0.]*$)/, '');

/** A number with six significant digits, without padding zeros. */
export const figures = (value: number | null | undefined): string =>
  value === null || value === undefined ? '-' : String(Number(value.toPrecision(6)));
