export const WIDTH = 96;

/** Rows of cells as lines: the first column to the left, the others to the right, each as wide as its widest cell. */
export function table(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, k) => Math.max(...rows.map((row) => row[k].length)));
  const pad = (cell: string, k: number) => (k === 0 ? cell.padEnd(widths[k]) : cell.padStart(widths[k]));
  const lines = rows.map((row) => `  ${row.map(pad).join('   ').trimEnd()}`);
  const rule = `  ${widths.map((width) => '─'.repeat(width)).join('───')}`;
  return [lines[0], rule, ...lines.slice(1)];
}

/** Text broken at spaces to lines of at most WIDTH characters; `first` starts the first line, the others are indented as far. */
export function wrap(text: string, first = ''): string[] {
  const indent = ' '.repeat(first.length);
  const lines = [first];
  for (const word of text.split(' ')) {
    const line = lines.at(-1)!;
    const begun = line.length > indent.length;
    if (begun && line.length + 1 + word.length > WIDTH) lines.push(indent + word);
    else lines[lines.length - 1] = begun ? `${line} ${word}` : line + word;
  }
  return lines;
}

export const heading = (title: string): string[] => ['', title, '═'.repeat(title.length)];

/** With this many decimals, never a negative zero. */
export const fixed = (value: number, decimals: number): string => value.toFixed(decimals).replace(/^-(?=[0.]*$)/, '');
