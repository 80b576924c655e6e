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
const SVG = 'http://www.w3.org/2000/svg';
const [WIDTH_PX, HEIGHT_PX] = [560, 320];

/** What is used of a DOM element. */
interface Element extends PlotElement {
  setAttribute(name: string, value: string): void;
  append(...parts: readonly unknown[]): void;
  removeAttribute(name: string): void;
}

/**
 * One plot with the look that all share: labelled axes with units, a grid, lines and text in the colour of the text around it (so that it reads on
 * light and dark pages), no animation. `title` is its text for those who cannot see it.
 */
export function drawn(title: string, { document, widthPx = WIDTH_PX, heightPx = HEIGHT_PX }: Page, options: Plot.PlotOptions): PlotElement {
  const page = document === undefined ? {} : { document: document as Plot.PlotOptions['document'] };
  const element = Plot.plot({
    ...page,
    width: widthPx,
    height: heightPx,
    marginTop: 26,
    marginLeft: 56,
    marginBottom: 40,
    grid: true,
    style: { background: 'none', color: 'currentColor', fontFamily: 'system-ui, sans-serif', fontSize: '12px' },
    ariaLabel: title,
    ...options,
  }) as unknown as Element;
  element.setAttribute('role', 'img');
  element.setAttribute('xmlns', SVG);
  return element;
}

/** Room for names left of a plot: letters of 12 px are about 7 px wide. */
export const roomFor = (names: readonly string[]): number => 20 + 7 * Math.max(8, ...names.map(({ length }) => length));

/** Room above a plot with a key, and the key: what its marks say, to the right, below the name of the axis. */
export const KEY_PX = 46;
export const key = (text: string) => Plot.text([text], { frameAnchor: 'top-right', dy: -18, fontSize: 11, fill: 'currentColor' });

/** Said in the middle of a plot that has nothing to show. */
export const nothing = (what: string) => Plot.text([what], { frameAnchor: 'middle', fill: 'currentColor' });

/** Plots of one page below each other, as one. */
export function stacked(
  title: string,
  plots: readonly PlotElement[],
  { document, widthPx = WIDTH_PX, heightPx = HEIGHT_PX }: Page,
): PlotElement {
  if (plots.length === 1) return plots[0];
  const owner = (document ?? (globalThis as { document?: object }).document) as { createElementNS(space: string, name: string): Element };
  const whole = owner.createElementNS(SVG, 'svg');
  const high = heightPx * plots.length;
  const names = {
    xmlns: SVG,
    role: 'img',
    style: 'background:none;color:currentColor',
    'aria-label': title,
    width: `${widthPx}`,
    height: `${high}`,
    viewBox: `0 0 ${widthPx} ${high}`,
  };
  for (const [name, value] of Object.entries(names)) whole.setAttribute(name, value);
  for (const [k, plot] of (plots as readonly Element[]).entries()) {
    plot.setAttribute('y', `${k * heightPx}`);
    plot.removeAttribute('role');
    whole.append(plot);
  }
  return whole;
}
