import * as Plot from '@observablehq/plot';
import { drawn, type Page, type PlotElement, SERIES } from './frame.ts';

/** One bounce over time: height of its centre of mass above the floor. */
export interface Flight {
  readonly name: string;
  readonly timesMs: ArrayLike<number>;
  readonly heightMm: ArrayLike<number>;
}

/** Height of the centre of mass over time, a line for each bounce. */
export function heightPlot(flights: readonly Flight[], page: Page = {}): PlotElement {
  const points = flights.flatMap(({ name, timesMs, heightMm }) =>
    Array.from({ length: timesMs.length }, (_, k) => ({ name, timeMs: timesMs[k], heightMm: heightMm[k] })),
  );
  return drawn('Height over time', page, {
    x: { label: 'time, ms' },
    y: { label: 'height, mm' },
    color: { domain: flights.map(({ name }) => name), range: [...SERIES] },
    marks: [Plot.line(points, { x: 'timeMs', y: 'heightMm', stroke: 'name', strokeWidth: 2 })],
  });
}

/** What is drawn of an energy account: `rebound.energy` of a result. */
export interface Energies {
  readonly incomingJ: number;
  readonly reboundJ: number;
  readonly sidewaysJ: number;
  readonly vibrationJ: number;
  readonly branchesJ: number;
  readonly dissipatedJ: number;
  readonly frictionJ: number;
}

/** Where the energy of a bounce went, as shares of what came in. */
export function energyPlot(energy: Energies, page: Page = {}): PlotElement {
  const shares = [
    { where: 'rebound', joule: energy.reboundJ },
    { where: 'sideways and spin', joule: energy.sidewaysJ },
    { where: 'left ringing', joule: energy.vibrationJ },
    { where: 'held in the material', joule: energy.branchesJ },
    { where: 'heat in the material', joule: energy.dissipatedJ },
    { where: 'friction', joule: energy.frictionJ },
  ].map((each) => ({ ...each, pct: (100 * each.joule) / energy.incomingJ }));
  const label = ({ joule, pct }: { joule: number; pct: number }) => `${pct.toFixed(1)} % (${joule.toPrecision(3)} J)`;
  return drawn(
    'Where the energy went',
    { heightPx: 220, ...page },
    {
      marginLeft: 130,
      marginRight: 100,
      x: { label: 'share of the incoming energy, %', zero: true },
      y: { label: null, domain: shares.map(({ where }) => where) },
      marks: [
        Plot.barX(shares, { x: 'pct', y: 'where', fill: SERIES[0] }),
        Plot.text(shares, {
          x: (each) => Math.max(0, each.pct),
          y: 'where',
          text: label,
          textAnchor: 'start',
          dx: 4,
          fill: 'currentColor',
        }),
        Plot.ruleX([0]),
      ],
    },
  );
}
