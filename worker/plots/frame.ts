import * as Plot from '@observablehq/plot';

/** What plots are drawn into: a browser's own document, or on the server one of linkedom. */
export interface Page {
  /** A DOM Document; left out in a browser. */
  readonly document?: object;
  readonly widthPx?: number;
  readonly heightPx?: number;
}

/** An SVG element of the page's document; its own text is the picture. */
export interface PlotElement {
  readonly outerHTML: string;
}

/** Colours that people of any colour vision tell apart (Okabe and Ito 2008), in the order in which series take them. */
export const SERIES = ['#0072b2', '#d55e00', '#009e73', '#cc79a7', '#e69f00', '#56b4e9'] as const;
/** Bars and areas that stand for a kind, by name. */
export const QUIET = '#9aa3ab';

/**
 * One plot with the look that all share: labelled axes with units, a grid, lines and text in the colour of the text around it (so that it reads on
 * light and dark pages), no animation. `title` is its text for those who cannot see it.
 */
export function drawn(title: string, { document, widthPx = 560, heightPx = 320 }: Page, options: Plot.PlotOptions): PlotElement {
  const page = document === undefined ? {} : { document: document as Plot.PlotOptions['document'] };
  const element = Plot.plot({
    ...page,
    width: widthPx,
    height: heightPx,
    marginLeft: 56,
    marginBottom: 40,
    grid: true,
    style: { background: 'none', color: 'currentColor', fontFamily: 'system-ui, sans-serif', fontSize: '12px' },
    ariaLabel: title,
    ...options,
  }) as unknown as PlotElement & { setAttribute(name: string, value: string): void };
  element.setAttribute('role', 'img');
  element.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  return element;
}
