/**
 * Limits of common practice that no material record gives, each with where it comes from. They warn; they never fail a part.
 * "Read in copies" means excerpts of several laser-sintering services' design pages, which differ among each other by a factor of two.
 */
export const PRACTICE = {
  /** Advised over least strut diameter: 1.5 mm where 1.0 mm is the least. */
  advisedStrut: { factor: 1.5, source: 'common practice of laser-sintering services, read in copies' },
  /** Advised over least opening for powder: 5 mm where 3.5 mm is the least. */
  advisedOpening: { factor: 5 / 3.5, source: 'common practice of laser-sintering services, read in copies' },
  /** Below this length over diameter the zones where struts merge carry most of the load. */
  leastSlenderness: { ratio: 2, source: 'a judgement: strut models lose their accuracy there' },
  /** Above this length over diameter a strut is easily bent while powder is removed. */
  mostSlenderness: { ratio: 20, source: 'from memory, not confirmed' },
  /** Two struts of one diameter that meet at 30 degrees stay merged over nearly four radii. */
  leastAngle: { degrees: 30, source: 'a judgement' },
  /** A rod of 8 mm must not enter, or one of 25 mm must pass. */
  fingers: { fromMm: 8, toMm: 25, source: 'from memory, after the probes of EN 1176 and EN 71-1' },
  /** Bounces that the weaker parts should last: an afternoon or two of play at one bounce in a few seconds. */
  leastLife: { cycles: 10_000, source: 'a judgement' },
  /** Thinnest pin, least gap between pins, and how far pins stand out so that finger and eye tell them apart. */
  markPin: {
    diameterMm: 1,
    gapMm: 1,
    lengthMm: 1.5,
    longMm: 3,
    source: 'pins of 0.8 to 1 mm on design pages, read in copies; lengths a judgement',
  },
  /** Struts that count as level and as upright when ways up are compared. */
  levelWithin: { degrees: 10, source: 'a judgement' },
  uprightWithin: { degrees: 30, source: 'a judgement' },
  /** A ball smaller than this counts as a small ball for children under three. */
  smallBall: { diameterMm: 44.45, source: '16 CFR 1501 and EN 71-1 as quoted on pages, read in copies' },
} as const;
