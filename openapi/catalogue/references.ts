import { estimatesOf } from '../inflation.ts';
import type { Reference } from '../reference.ts';

const builtIn = { revision: 1, builtIn: true, dropHeightMm: null, peakForceN: null } as const;
const quoted = 'read in pages that quote the rule, not in the rule text itself';
const handballRule = {
  source: 'IHF, Rules of the Game, rule 3:2',
  edition: 'as quoted by current pages',
  status: `${quoted}; no rebound is published, so none is a target; the pressure is from memory`,
} as const;
const band = (quantity: string, min: number, max: number) => ({ quantity, min, max });

const published: readonly Reference[] = [
  {
    ...builtIn,
    key: 'handball-size-0',
    targets: [{ quantity: 'massG', max: 260 }, band('circumferenceMm', 460, 480)],
    inflation: null,
    source: 'National practice for the youngest players; this size is not in the playing rules of the IHF',
    edition: 'not dated',
    status: 'read in two pages that differ (460-480 mm, about 480 mm); no lower mass, rebound or pressure was found',
  },
  {
    ...builtIn,
    ...handballRule,
    key: 'handball-size-1',
    targets: [{ quantity: 'massG', min: 290, target: 310, max: 330 }, band('circumferenceMm', 500, 520)],
    inflation: { pressureBar: 0.4 },
  },
  {
    ...builtIn,
    ...handballRule,
    key: 'handball-size-2',
    targets: [{ quantity: 'massG', min: 325, target: 350, max: 375 }, band('circumferenceMm', 540, 560)],
    inflation: { pressureBar: 0.4 },
  },
  {
    ...builtIn,
    ...handballRule,
    key: 'handball-size-3',
    targets: [{ quantity: 'massG', min: 425, target: 450, max: 475 }, band('circumferenceMm', 580, 600)],
    inflation: { pressureBar: 0.4 },
  },
  {
    ...builtIn,
    key: 'football-size-4',
    targets: [band('massG', 350, 390), band('circumferenceMm', 635, 660)],
    inflation: null,
    source: 'FIFA Quality programme, size 4',
    edition: 'not dated',
    status: `${quoted}, which differ (330-390 and 360-380 g, 620-650 mm are printed too); a rebound is known from memory only and left out`,
  },
  {
    ...builtIn,
    key: 'football-size-5',
    targets: [band('massG', 410, 450), band('circumferenceMm', 680, 700), band('reboundHeightMm', 1250, 1550)],
    inflation: { pressureBar: 0.8 },
    dropHeightMm: 2000,
    source: 'IFAB, Laws of the Game, law 2 (mass, circumference); FIFA Quality programme (rebound from 2 m on steel at 20 °C, at 0.8 bar)',
    edition: 'rebound: editions from 2016 on; an older one has 1150-1650 mm',
    status: quoted,
  },
  {
    ...builtIn,
    key: 'futsal',
    targets: [band('massG', 400, 440), band('circumferenceMm', 620, 640), band('reboundHeightMm', 500, 650)],
    inflation: { pressureBar: 0.76 },
    dropHeightMm: 2000,
    source: 'FIFA, Futsal Laws of the Game, law 2: first rebound from 2 m; pressure: the middle of 0.6-0.9 atm',
    edition: 'current; an older one has a pressure of 0.4-0.6 atm',
    status: "read in a national association's copy of the law",
  },
  {
    ...builtIn,
    key: 'volleyball',
    targets: [band('massG', 260, 280), band('circumferenceMm', 650, 670)],
    inflation: { pressureBar: 0.306 },
    source: 'FIVB, Official Volleyball Rules; pressure: the middle of 294.3-318.82 mbar',
    edition: 'as quoted by current pages',
    status: `${quoted}; the rules have no rebound, so none is a target`,
  },
  {
    ...builtIn,
    key: 'tennis',
    targets: [band('massG', 56, 59.4), band('outsideDiameterMm', 65.4, 68.6), band('reboundHeightMm', 1350, 1470)],
    inflation: null,
    dropHeightMm: 2540,
    source: 'ITF, Rules of Tennis, appendix on the ball: types 1 and 2, from 254 cm onto a smooth rigid block',
    edition: 'as quoted by current pages',
    status: 'read in copies of the appendix; the method of the drop was read in the primary text; deformation limits are left out',
  },
];

const estimated = (reference: Reference): Reference => {
  const estimates = estimatesOf(reference);
  return estimates ? { ...reference, estimates } : reference;
};

/** Published limits of the objects that are played with today. A limit known from memory only is left out; what is left out is said. */
export const REFERENCES: readonly Reference[] = published.map(estimated);
