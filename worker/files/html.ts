const REFERENCE: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };
/** Below this, digits are rounding or nothing to anybody. */
const LEAST = 1e-4;

/** Text as HTML shows it. */
export const escaped = (text: string): string => text.replace(/[&<>"']/g, (mark) => REFERENCE[mark]);

/** A number to four digits in plain decimals, thousands parted by narrow spaces (ISO 80000-1); what is next to nothing as such, what is not there as a dash. */
export function shown(value: number | null | undefined): string {
  if (value === null || value === undefined) return '–';
  if (value !== 0 && Math.abs(value) < LEAST) return `under ${LEAST}`;
  const rounded = Number(value.toPrecision(4));
  const text = rounded.toLocaleString('en', { maximumFractionDigits: 15, useGrouping: Math.abs(rounded) >= 1e4 });
  return text.replaceAll(',', '\u202f').replace('-', '−');
}

/** A value with its unit; a dash alone where there is none. */
export const measured = (value: number | null | undefined, unit: string): string =>
  value === null || value === undefined ? '–' : `${shown(value)} ${unit}`.trim();

/** A table: heads, then rows of text; `classOf` marks rows. On a phone each row becomes a block with its heads before its cells. */
export function table(heads: readonly string[], rows: readonly (readonly string[])[], classOf: (row: number) => string = () => ''): string {
  const head = heads.map((each) => `<th scope="col">${escaped(each)}</th>`).join('');
  const body = rows.map((cells, k) => {
    const line = cells.map((cell, n) => `<td data-head="${escaped(heads[n])}">${escaped(cell)}</td>`).join('');
    return `<tr class="${classOf(k)}">${line}</tr>`;
  });
  return `<table><thead><tr>${head}</tr></thead><tbody>\n${body.join('\n')}\n</tbody></table>`;
}

/** What things are: a name and a text in each row. */
export const pairs = (rows: readonly (readonly [string, string])[]): string =>
  `<table class="pairs"><tbody>\n${rows.map(([name, text]) => `<tr><th scope="row">${escaped(name)}</th><td>${escaped(text)}</td></tr>`).join('\n')}\n</tbody></table>`;

export const section = (title: string, ...content: readonly string[]): string =>
  content.some((each) => each !== '') ? `<section><h2>${escaped(title)}</h2>\n${content.join('\n')}\n</section>` : '';

export const list = (texts: readonly string[]): string =>
  texts.length > 0 ? `<ul>${texts.map((text) => `<li>${escaped(text)}</li>`).join('')}</ul>` : '';

export const figures = (...each: readonly string[]): string => {
  const there = each.filter((figure) => figure !== '');
  return there.length > 0 ? `<div class="figures">${there.join('\n')}</div>` : '';
};

/** A picture inside the page. */
export const figure = (png: Uint8Array | null, caption: string): string =>
  png === null
    ? ''
    : `<figure><img alt="${escaped(caption)}" src="data:image/png;base64,${Buffer.from(png).toString('base64')}"><figcaption>${escaped(caption)}</figcaption></figure>`;

const STYLE = `
:root { color-scheme: light dark; --ink: #1b2126; --paper: #fff; --soft: #4a545c; --line: #c9d0d6; --hair: #e3e7ea; }
@media screen and (prefers-color-scheme: dark) { :root { --ink: #e4e8eb; --paper: #14181c; --soft: #a9b3bb; --line: #46505a; --hair: #2b333a; } figure img { background: #fff; border-radius: 6px; } }
body { font: 16px/1.45 system-ui, sans-serif; color: var(--ink); background: var(--paper); max-width: 60rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 .3rem; } h2 { font-size: 1.2rem; border-bottom: 1px solid var(--line); padding-bottom: .2rem; margin: 2rem 0 .6rem; } h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
table { border-collapse: collapse; width: 100%; font-size: .92em; } th, td { text-align: left; padding: .3rem .7rem .3rem 0; vertical-align: top; border-bottom: 1px solid var(--hair); overflow-wrap: break-word; }
thead th { border-bottom-color: var(--line); } .pairs th { font-weight: 400; color: var(--soft); width: 36%; } .small { font-size: .85em; color: var(--soft); overflow-wrap: anywhere; }
td:last-child, th:last-child { padding-right: 0; } .checks td:nth-child(3), .checks td:nth-child(4) { white-space: nowrap; } .checks td:nth-child(5) { min-width: 45%; }
tr.fail td:first-child, tr.warn td:first-child, tr.pass td:first-child { border-left: 4px solid #d55e00; padding-left: .5rem; } tr.warn td:first-child { border-left-color: #e69f00; } tr.pass td:first-child { border-left-color: #009e73; }
.figures { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 24rem), 1fr)); gap: 1.2rem; margin: .8rem 0; } figure { margin: 0; break-inside: avoid; } figure img, figure svg { width: 100%; height: auto; }
figcaption { font-size: .85em; color: var(--soft); } li::first-letter { text-transform: uppercase; } li { margin: .15rem 0; }
.care { border: 2px solid #d55e00; border-radius: 6px; padding: .2rem 1rem; margin-top: 2rem; break-inside: avoid; } .care h2 { margin-top: .6rem; border: 0; }
tr { break-inside: avoid; } h2, h3 { break-after: avoid; }
@media screen and (max-width: 40rem) {
  thead { position: absolute; clip-path: inset(50%); width: 1px; height: 1px; overflow: hidden; } table, tbody, tr, td, .pairs th { display: block; width: auto; } td, .pairs th { border: 0; padding: .1rem 0; }
  tr { border-bottom: 1px solid var(--line); padding: .4rem 0; } tr td[data-head]:not([data-head=""])::before { content: attr(data-head) ": "; color: var(--soft); } .checks td { white-space: normal; }
  ul { padding-left: 1.2rem; }
}
@page { size: A4; margin: 16mm; }
@media print { body { margin: 0; padding: 0; max-width: none; font-size: 10pt; } .figures { grid-template-columns: 1fr 1fr; } .records { font-size: 8pt; } h2 { margin-top: 1.4rem; } }
`;

/** A whole page that needs nothing but itself. */
export const page = (title: string, ...content: readonly string[]): string =>
  `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escaped(title)}</title><style>${STYLE}</style></head>\n<body>\n${content.filter((each) => each !== '').join('\n')}\n</body></html>\n`;
