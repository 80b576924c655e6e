import * as Plot from '@observablehq/plot';
import { drawn, type Page, type PlotElement, roomFor, SERIES } from './frame.ts';

/** One bounce over time: height of its centre of mass above the floor. */
export interface Flight {
  readonly name: string;
  readonly timesMs: ArrayLike<number>;
  readonly heightMm: ArrayLike<number>;
}

/** Lines that are told apart without their colours. */
const DASHES = ['none', '7 4', '2 3', '9 3 2 3'];

/** Height of the centre of mass over time, a line for each bounce; several are named where they end. */
export function heightPlot(flights: readonly Flight[], page: Page = {}): PlotElement {
  const lines = flights.map(({ name, timesMs, heightMm }) =>
    Array.from({ length: timesMs.length }, (_, k) => ({ name, timeMs: timesMs[k], heightMm: heightMm[k] })),
  );
  const axes = { x: 'timeMs', y: 'heightMm' } as const;
  const ends = lines.length > 1 ? lines.flatMap((line) => line.slice(-1)) : [];
  return drawn('Height over time', page, {
    marginRight: ends.length > 0 ? 110 : undefined,
    x: { label: 'time, ms' },
    y: { label: 'height of the centre, mm' },
    marks: [
      ...lines.map((line, k) =>
        Plot.line(line, { ...axes, stroke: SERIES[k % SERIES.length], strokeDasharray: DASHES[k % DASHES.length], strokeWidth: 2 }),
      ),
      Plot.text(ends, { ...axes, text: 'name', textAnchor: 'start', dx: 6, fill: 'currentColor' }),
    ],
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
  // what is less than a thousandth of a percent is rounding
  const joules = (joule: number) => (Math.abs(joule) < 1e-5 * energy.incomingJ ? '0' : joule.toPrecision(3));
  const label = ({ joule, pct }: { joule: number; pct: number }) => `${pct.toFixed(1)} % (${joules(joule)} J)`;
  return drawn(
    'Where the energy went',
    { heightPx: 220, ...page },
    {
      marginLeft: roomFor(shares.map(({ where }) => where)),
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
