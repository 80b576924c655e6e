const REFERENCE: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** Text as HTML shows it. */
export const escaped = (text: string): string => text.replace(/[&<>"']/g, (mark) => REFERENCE[mark]);

/** A number to four digits, in plain decimals; what is not there as a dash. */
export const shown = (value: number | null | undefined): string =>
  value === null || value === undefined
    ? '–'
    : Number(value.toPrecision(4)).toLocaleString('en', { maximumFractionDigits: 15, useGrouping: false });

/** A table: heads, then rows of text; `classOf` marks rows. */
export function table(heads: readonly string[], rows: readonly (readonly string[])[], classOf: (row: number) => string = () => ''): string {
  const line = (cells: readonly string[], tag: 'th' | 'td') => cells.map((cell) => `<${tag}>${escaped(cell)}</${tag}>`).join('');
  const body = rows.map((cells, k) => `<tr class="${classOf(k)}">${line(cells, 'td')}</tr>`).join('\n');
  return `<table><thead><tr>${line(heads, 'th')}</tr></thead><tbody>\n${body}\n</tbody></table>`;
}

export const section = (title: string, ...content: readonly string[]): string =>
  content.some((each) => each !== '') ? `<section><h2>${escaped(title)}</h2>\n${content.join('\n')}\n</section>` : '';

export const list = (texts: readonly string[]): string =>
  texts.length > 0 ? `<ul>${texts.map((text) => `<li>${escaped(text)}</li>`).join('')}</ul>` : '';

/** A picture inside the page. */
export const figure = (png: Uint8Array | null, caption: string): string =>
  png === null
    ? ''
    : `<figure><img alt="${escaped(caption)}" src="data:image/png;base64,${Buffer.from(png).toString('base64')}"><figcaption>${escaped(caption)}</figcaption></figure>`;

const STYLE = `
:root { color-scheme: light; }
body { font: 15px/1.45 system-ui, sans-serif; color: #1b2126; max-width: 60rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.6rem; margin: 0 0 .2rem; } h2 { font-size: 1.15rem; border-bottom: 1px solid #c9d0d6; padding-bottom: .2rem; margin-top: 2rem; }
table { border-collapse: collapse; width: 100%; font-size: .92em; } th, td { text-align: left; padding: .25rem .6rem .25rem 0; vertical-align: top; border-bottom: 1px solid #e3e7ea; }
tr.fail td:first-child { border-left: 4px solid #d55e00; padding-left: .5rem; } tr.warn td:first-child { border-left: 4px solid #e69f00; padding-left: .5rem; }
tr.pass td:first-child { border-left: 4px solid #009e73; padding-left: .5rem; }
.figures { display: grid; grid-template-columns: repeat(auto-fit, minmax(16rem, 1fr)); gap: 1rem; } figure { margin: 0; break-inside: avoid; } figure img, figure svg { width: 100%; height: auto; }
figcaption { font-size: .85em; color: #4a545c; } .care { border: 2px solid #d55e00; padding: .2rem 1rem; } section { break-inside: auto; } tr { break-inside: avoid; }
pre { white-space: pre-wrap; font-size: .8em; background: #f4f6f7; padding: .7rem; }
@page { size: A4; margin: 16mm; } @media print { body { margin: 0; max-width: none; font-size: 10pt; } h2 { break-after: avoid; } }
`;

/** A whole page that needs nothing but itself. */
export const page = (title: string, ...content: readonly string[]): string =>
  `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escaped(title)}</title><style>${STYLE}</style></head>\n<body>\n${content.filter((each) => each !== '').join('\n')}\n</body></html>\n`;
