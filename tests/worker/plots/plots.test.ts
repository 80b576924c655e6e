import { DOMParser } from '@xmldom/xmldom';
import { parseHTML } from 'linkedom';
import { describe, expect, it } from 'vitest';
import { energyPlot, forceDeflectionPlot, heightPlot, layerAreaPlot, type PlotElement, paretoPlot } from '../../../worker/plots/index.ts';

const { document } = parseHTML('<!doctype html><html><body></body></html>');
const page = { document };
const curve = [0, 5, 10, 15].map((deflectionMm) => ({ deflectionMm, forceN: deflectionMm * 12 }));
const plots: readonly [string, PlotElement, string[]][] = [
  [
    'force over deflection',
    forceDeflectionPlot({ curve, unloading: curve.slice(0, 3), firstBuckling: curve[2], firstContact: null }, page),
    ['deflection, mm', 'force, N', 'first buckling'],
  ],
  ['height over time', heightPlot([{ name: 'pentagon', timesMs: [0, 5, 10], heightMm: [81, 70, 82] }], page), ['time, ms', 'height, mm']],
  [
    'layer areas',
    layerAreaPlot({ zMm: Float64Array.of(0, 0.1, 0.2), areaMm2: Float64Array.of(10, 20, 15) }, page),
    ['height, mm', 'area, mm²'],
  ],
  [
    'energy',
    energyPlot({ incomingJ: 5, reboundJ: 3, sidewaysJ: 0, vibrationJ: 0.5, branchesJ: 0.2, dissipatedJ: 1.2, frictionJ: 0.1 }, page),
    ['60.0 % (3.00 J)', 'share of the incoming energy, %'],
  ],
  [
    'options',
    paretoPlot(
      [
        { x: 1, y: 2, best: true },
        { x: 2, y: 3, best: false },
      ],
      { x: 'mass, g', y: 'cost, EUR' },
      page,
    ),
    ['mass, g', 'cost, EUR'],
  ],
];

describe('plots', () => {
  it.each(plots)('%s: well-formed SVG that names its axes with their units, and itself to a reader', (_, plot, texts) => {
    const svg = plot.outerHTML;
    const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml');
    expect(parsed.documentElement?.tagName).toBe('svg');
    expect(parsed.documentElement?.getAttribute('aria-label')).not.toBe('');
    for (const text of texts) expect(svg).toContain(text);
    expect(svg).not.toContain('NaN');
  });
});
