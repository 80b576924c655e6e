import type { EvaluationRequest, InlineReference, ParameterSet, Reference } from '../../openapi/index.ts';

/** What the Harbour Schools League, invented for this story, asks for. */
export const DESIGN = {
  name: 'Harbour Schools League, training ball size 1',
  notes: 'Weighs and measures what a size 1 handball does, and never needs a pump.',
};

export const CONDITIONS = {
  material: 'tpu-soft',
  buildVolume: 'medium-polymer',
  tests: { depth: 'geometry' },
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

/** A search that has not arrived by then does not converge. */
export const MOST_VERSIONS = 8;

interface Band {
  min: number;
  max: number;
}
export interface Brief {
  massG: Band & { target: number };
  circumferenceMm: Band;
  /** The same as targets of an evaluation. */
  reference: InlineReference;
}

/** The league's targets, from the published limits of the original. */
export function briefFrom(original: Reference): Brief {
  const band = (name: string) => {
    const { min, target, max } = original.targets.find(({ quantity }) => quantity === name) ?? {};
    if (min === undefined || max === undefined) throw new Error(`The reference ${original.key} has no band for ${name}`);
    return { min, max, target: target ?? (min + max) / 2 };
  };
  const { target } = band('massG');
  const massG = { min: target - MASS_TOLERANCE_G, target, max: target + MASS_TOLERANCE_G };
  const { min, max } = band('circumferenceMm');
  const { key: _, revision: __, ...limits } = original;
  return {
    massG,
    circumferenceMm: { min, max },
    reference: {
      targets: [
        { quantity: 'massG', ...massG },
        { quantity: 'circumferenceMm', min, max },
      ],
      ...{ source: `Harbour Schools League, within ${original.source}`, edition: original.edition, status: original.status },
      ...{ inflation: limits.inflation, dropHeightMm: limits.dropHeightMm, peakForceN: limits.peakForceN },
    },
  };
}
