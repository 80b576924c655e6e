import type { EvaluationRequest, ParameterSet, Reference, ReferenceBody } from '../../openapi/index.ts';

/** What the Harbour Schools League, invented for this story, asks for. */
export const DESIGN = {
  name: 'Harbour Schools League, training ball size 1',
  notes: 'Weighs and measures what a size 1 handball does, gives and bounces as one, and never needs a pump.',
};

/** Between plates to a tenth of the diameter, as the league pressed its own ball; how the lattice rings nobody asks. */
export const PRESSED = { frequencies: 0, compression: { toPctOfDiameter: 10, secantAtPct: 10 } };
export const DROPPED = { heightMm: 1500, orientations: 6 };
export const CONDITIONS = {
  material: 'tpu-soft',
  buildVolume: 'medium-polymer',
  tests: { depth: 'static', ...PRESSED },
} satisfies Partial<EvaluationRequest>;
export const ORIGINAL = 'handball-size-1';

/** Balls of one set must feel alike, so the league narrows the published band of the mass to this distance from its middle. */
const MASS_TOLERANCE_G = 3;

/** A first guess: the diameter as a ruler gives it on a flat ball, struts that look about right. */
export const FIRST_GUESS: ParameterSet = {
  carrier: { shape: 'sphere', outsideDiameterMm: 150 },
  tiling: { kind: 'goldberg', m: 3, n: 3, relaxation: 'equal-edges', orientation: 'split-plane' },
  layers: [
    { depthMm: 0, strutDiameterMm: 3 },
    { depthMm: 14, strutDiameterMm: 2.6 },
  ],
  links: { pattern: 'posts', strutDiameterMm: 2.6 },
};

/** What a search may change. */
export const FREE = [
  { path: 'carrier.outsideDiameterMm', min: 150, max: 175 },
  { path: 'layers.0.strutDiameterMm', min: 2, max: 6 },
  { path: 'layers.1.strutDiameterMm', min: 2, max: 6 },
  { path: 'links.strutDiameterMm', min: 2, max: 6 },
];
/** Evaluations that the searches may take together. */
export const BUDGET = 40;

export const INVENTED = 'invented for this demo';
/** No rule gives a handball's stiffness or rebound, so the league pressed and dropped one of its own, pumped up, six times each. */
export const READINGS = { stiffnessNPerMm: [9.2, 9.7, 9.4, 9.8, 9.3, 9.6], reboundHeightMm: [1012, 992, 1025, 1004, 1016, 1000] };

/** The league's own ball as a reference: the published limits of its mass and size, the mass narrowed, and what the league measured. */
export function leagueBall({ targets, ...original }: Reference): ReferenceBody {
  const [mass, size] = ['massG', 'circumferenceMm'].map((quantity) => targets.find((each) => each.quantity === quantity));
  if (!mass?.target || !size) throw new Error(`The reference ${original.key} has no mass or circumference`);
  const notes = INVENTED;
  return {
    key: 'harbour-training-ball',
    targets: [{ ...mass, min: mass.target - MASS_TOLERANCE_G, max: mass.target + MASS_TOLERANCE_G }, size],
    ...{ source: `Harbour Schools League, within ${original.source}`, edition: original.edition, status: INVENTED },
    ...{ inflation: original.inflation, dropHeightMm: DROPPED.heightMm, peakForceN: null },
    measurements: [
      { quantity: 'stiffnessNPerMm', values: READINGS.stiffnessNPerMm, instrument: 'press, to a tenth of the diameter', notes },
      { quantity: 'reboundHeightMm', values: READINGS.reboundHeightMm, instrument: 'video beside a rule, on the floor of the hall', notes },
    ],
    band: { kind: 'standard-deviations', factor: 2 },
  };
}

type Target = Reference['targets'][number];
/** The targets of the league's ball with these names, in this order. */
export const wanted = ({ targets }: Reference, ...names: string[]): Target[] =>
  names.map((name) => targets.find(({ quantity }) => quantity === name)!);
