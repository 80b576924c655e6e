import { describe, expect, it } from 'vitest';
import {
  comparedPlot,
  type Effects,
  effectsPlot,
  energyPlot,
  forceDeflectionPlot,
  frontPlot,
  heightPlot,
  layerAreaPlot,
  type PlotElement,
  paretoPlot,
  type Residual,
  residualPlot,
  spreadPlot,
} from '../../../worker/plots/index.ts';
import { newPage, svgFile } from '../../../worker/plots/on-server.ts';
import { type Drawing, readDrawing } from '../../support/drawing.ts';

const page = newPage();
const read = (plot: PlotElement): Drawing => readDrawing(plot.outerHTML);
/** Of each mark of a kind: how many shapes it has. */
const counts = (plot: PlotElement, kind: string): number[] =>
  read(plot)
    .marks(kind)
    .map((shapes) => shapes.length);
/** What tells shapes apart without their colours: what they are, filled or not, dashed or not. */
const looks = (plot: PlotElement, kind: string): string[] =>
  [...read(plot).root.getElementsByTagName('g')]
    .filter((group) => group.getAttribute('aria-label') === kind)
    .map((group) => {
      const shape = group.getElementsByTagName('*')[0]!;
      const outline = shape.getAttribute('d')?.replace(/[-\d.e]+/g, '') ?? '';
      const filled = group.getAttribute('fill') !== 'none' && group.getAttribute('fill') !== null;
      return [shape.tagName, outline, filled ? 'filled' : 'open', group.getAttribute('stroke-dasharray') ?? 'solid'].join(' ');
    });
/** Places of circles or of shapes that are moved to where they belong, across. */
const across = (plot: PlotElement, kind: string): number[][] =>
  read(plot)
    .marks(kind)
    .map((shapes) =>
      shapes.map((each) => Number(each.getAttribute('cx') ?? each.getAttribute('transform')!.match(/translate\(([-\d.]+)/)![1])),
    );

const curve = [0, 5, 10, 15].map((deflectionMm) => ({ deflectionMm, forceN: deflectionMm * 12 }));
const flight = (name: string) => ({ name, timesMs: [0, 5, 10], heightMm: [81, 70, 82] });
const compared = [
  { version: 1, predicted: 300, measured: 305, deviation: 2 },
  { version: 2, predicted: null, measured: 311, deviation: null },
  { version: 3, predicted: 310, measured: 309, deviation: 1 },
];
const spreads = [
  { name: 'growth in the layer, mm', factor: false, value: 0.1, low: 0.08, high: 0.12, believed: { value: 0, deviation: 0.1 } },
  { name: 'modulus', factor: true, value: 1.1, low: 1.05, high: 1.15, believed: { value: 1, deviation: 0.2 } },
];
const residual = (quantity: string, from: Residual['from'], pct: number, outlier = false): Residual => ({ quantity, from, pct, outlier });
const residuals = [
  residual('mass', 'as designed', 4),
  residual('mass', 'calibrated', 0.5),
  residual('stiffness', 'as designed', -20),
  residual('stiffness', 'calibrated', -1),
  residual('stiffness', 'calibrated', 30, true),
];
const effects: Effects = {
  mean: 310,
  parameters: [
    { path: 'layers.0.strutDiameterMm', share: 0.7, levels: [3, 4].map((x) => ({ name: `${x}`, mean: 200 + 30 * x, deviation: 8 })) },
    { path: 'tiling', share: null, levels: [{ name: 'm 3, n 3', mean: 305, deviation: null }] },
  ],
};
const options = [
  { x: 1, y: 2, best: true },
  { x: 2, y: 1, best: true },
  { x: 2, y: 3, best: false },
];

const plots: readonly [string, PlotElement, string[]][] = [
  [
    'force over deflection',
    forceDeflectionPlot({ curve, unloading: curve.slice(0, 3), firstBuckling: curve[2], firstContact: null }, page),
    ['deflection, mm', 'force, N', 'first buckling', 'dashed: let go'],
  ],
  ['height over time', heightPlot([flight('pentagon')], page), ['time, ms', 'height of the centre, mm']],
  [
    'layer areas',
    layerAreaPlot({ zMm: Float64Array.of(0, 0.1, 0.2), areaMm2: Float64Array.of(10, 20, 15) }, page),
    ['height, mm', 'area, mm²'],
  ],
  [
    'energy',
    energyPlot({ incomingJ: 5, reboundJ: 3, sidewaysJ: 1e-31, vibrationJ: 0.5, branchesJ: 0.2, dissipatedJ: 1.2, frictionJ: 0.1 }, page),
    ['60.0 % (3.00 J)', '0.0 % (0 J)', 'share of the incoming energy, %'],
  ],
  [
    'options',
    paretoPlot(options, { x: 'mass, g', y: 'cost, EUR', wanted: { x: 'least', y: 'most' } }, page),
    ['mass, g (less is better)', 'cost, EUR (more is better)'],
  ],
  ['compared', comparedPlot(compared, 'mass, g', page), ['mass, g', 'version']],
  [
    'spreads',
    spreadPlot(spreads, page),
    ['growth in the layer, mm', 'modulus', 'deviations from what was believed', 'narrow: 95 % of what is left'],
  ],
  [
    'residuals',
    residualPlot(residuals, page),
    ['mass, as designed', 'stiffness, calibrated', 'cross: weighed down', 'measured above predicted, %'],
  ],
  ['effects', effectsPlot(effects, 'mass, g', page), ['mass, g', 'layers.0.strutDiameterMm: explains 70 %', 'tiling', 'm 3, n 3']],
];

describe('plots', () => {
  it.each(plots)('%s: well-formed SVG that names its axes with their units, and itself to a reader', (_, plot, texts) => {
    const { root, text } = read(plot);
    expect([root.tagName, root.getAttribute('role')]).toEqual(['svg', 'img']);
    expect(root.getAttribute('aria-label')).toMatch(/[a-z]{4}/);
    for (const each of texts) expect(text).toContain(each);
    expect(plot.outerHTML).not.toContain('NaN');
  });

  it('as files are black on white, on whatever they are put', () => {
    for (const [, plot] of plots) expect(readDrawing(svgFile(plot)).root.getAttribute('style')).toMatch(/background:white;color:black/);
  });

  it('name several flights at their ends, and draw no two of them alike', () => {
    const both = heightPlot([flight('pentagon'), flight('hexagon')], page);
    for (const name of ['pentagon', 'hexagon']) expect(read(both).text).toContain(name);
    expect(new Set(looks(both, 'line')).size).toBe(2);
    expect(read(heightPlot([flight('pentagon')], page)).text).not.toContain('pentagon');
  });
});

describe('predicted and measured over versions', () => {
  const plot = comparedPlot(compared, 'mass, g', page);
  it('has a dot for each measurement, a diamond for each prediction, a bar where a deviation is known', () => {
    expect(counts(plot, 'dot')).toEqual([3, 2]);
    expect(counts(plot, 'link')).toEqual([2]);
    expect(new Set(looks(plot, 'dot')).size).toBe(2);
  });

  it('says which is which', () => {
    for (const words of ['filled: measured', 'ring: predicted']) expect(read(plot).text).toContain(words);
  });

  it('draws two deviations to each side, and predictions right above their versions', () => {
    const [[first]] = read(plot).marks('link');
    const numbers = first
      .getAttribute('d')!
      .match(/[-\d.]+/g)!
      .map(Number);
    const heights = read(plot)
      .marks('dot')[0]
      .map((each) => Number(each.getAttribute('cy')));
    // 305 +- 4 g, where 311 and 305 are 6 g apart; written with three decimals or so
    const perG = (heights[0] - heights[1]) / 6;
    expect(Math.abs(numbers[3] - numbers[1]) / perG).toBeCloseTo(8, 3);
    const [measured, predicted] = across(plot, 'dot');
    expect(predicted).toEqual([measured[0], measured[2]]);
  });
});

describe('unknowns before and after', () => {
  const plot = spreadPlot(spreads, page);
  it('has for each a broad bar of what was believed, a narrow one of what is left, and a dot', () => {
    expect([counts(plot, 'link'), counts(plot, 'dot')]).toEqual([[2, 2], [2]]);
    const widths = [...read(plot).root.getElementsByTagName('g')]
      .filter((group) => group.getAttribute('aria-label') === 'link')
      .map((group) => Number(group.getAttribute('stroke-width')));
    expect(widths[0]).toBeGreaterThan(2 * widths[1]);
  });

  it('places factors by their logarithms, in deviations of the belief', () => {
    const [[growth, modulus]] = across(plot, 'dot');
    const [broad] = read(plot).marks('link');
    const [left, , right] = broad[0]
      .getAttribute('d')!
      .match(/[-\d.]+/g)!
      .map(Number);
    const perDeviation = (right - left) / (2 * 1.96);
    const middle = (left + right) / 2;
    // (0.1 - 0) / 0.1 and ln 1.1 / 0.2; places are written with three decimals or so
    expect((growth - middle) / perDeviation).toBeCloseTo(1, 3);
    expect((modulus - middle) / perDeviation).toBeCloseTo(Math.log(1.1) / 0.2, 3);
  });
});

describe('measurements about predictions', () => {
  const plot = residualPlot(residuals, page);
  it('has a ring for each as designed, a dot for each calibrated, a cross for what is weighed down', () => {
    expect(counts(plot, 'dot')).toEqual([2, 2, 1]);
    expect(new Set(looks(plot, 'dot')).size).toBe(3);
  });

  it('has them right and left of nothing by their sign', () => {
    const zero = Number(read(plot).marks('rule')[0][0].getAttribute('x1'));
    const [designed, calibrated, outliers] = across(plot, 'dot');
    expect(designed.map((x) => Math.sign(x - zero))).toEqual([1, -1]);
    expect(calibrated.map((x) => Math.sign(x - zero))).toEqual([1, -1]);
    expect((outliers[0] - zero) / (designed[0] - zero)).toBeCloseTo(30 / 4, 3);
  });
});

describe('what nothing beats', () => {
  it('is filled and joined, the rest are rings, one for all on a spot', () => {
    const many = Array.from({ length: 20_000 }, (_, k) => ({ x: 3 + (k % 7), y: 4 + (k % 11), best: false }));
    const plot = paretoPlot([...options, ...many], { x: 'mass, g', y: 'cost, EUR' }, page);
    expect(counts(plot, 'dot')).toEqual([1 + 77, 2]);
    expect(new Set(looks(plot, 'dot')).size).toBe(2);
    expect(counts(plot, 'line')).toEqual([1]);
  });

  it('of points all over is thinned to a few thousand', () => {
    const many = Array.from({ length: 50_000 }, (_, k) => ({ x: (k * 0.618034) % 1, y: (k * 0.414214) % 1, best: false }));
    const [rings] = counts(paretoPlot(many, { x: 'mass, g', y: 'cost, EUR' }, page), 'dot');
    expect(rings).toBeGreaterThan(500);
    expect(rings).toBeLessThanOrEqual(3000);
  });

  it('turns its corners to the side that was reached: at no less and no more of x than the best that is as good', () => {
    const corners = (wanted: 'least' | 'most', ys: [number, number]) => {
      const best = ys.map((y, k) => ({ x: k, y, best: true }));
      const [[line]] = read(paretoPlot(best, { x: 'x', y: 'y', wanted: { x: wanted, y: 'least' } }, page)).marks('line');
      // M x y, then H and V of a step
      return (
        line
          .getAttribute('d')!
          .match(/[MLHV]/g)!
          .join('') +
        line
          .getAttribute('d')!
          .match(/[-\d.]+/g)!
          .join(' ')
      );
    };
    // least: along at the height of the first, then to the second; most: the other way round
    const [least, most] = [corners('least', [1, 0]), corners('most', [0, 1])].map((d) => d.match(/[-\d.]+/g)!.map(Number));
    expect(least[3]).toBe(least[1]);
    expect(most[3]).not.toBe(most[1]);
  });

  it('in three quantities is a plot of each of the others over the first, its members not joined', () => {
    const axes = ['mass, g', 'cost, EUR', 'restitution'].map((name) => ({ name, wanted: 'least' as const }));
    const points = [0, 1, 2].map((k) => ({ name: `point ${k}`, best: k < 2, values: [k, 1 - k, k] }));
    const whole = read(frontPlot({ axes, points }, page));
    expect(whole.root.getElementsByTagName('svg')).toHaveLength(2);
    expect(whole.marks('line')).toEqual([]);
    expect(whole.marks('dot').map((shapes) => shapes.length)).toEqual([1, 2, 1, 2]);
    for (const { name } of axes) expect(whole.text).toContain(`${name} (less is better)`);
  });

  it('says so where there is nothing', () => {
    expect(read(paretoPlot([], { x: 'mass, g', y: 'cost, EUR' }, page)).text).toContain('No evaluation has both numbers yet.');
    expect(read(effectsPlot({ mean: null, parameters: [] }, 'mass, g', page)).text).toContain('No evaluation has this number yet.');
  });
});
