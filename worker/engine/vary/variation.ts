/** How printed parts differ from the design and from each other. Scatters are standard deviations of normal distributions. */
export interface Variation {
  /** Mean change of a strut's diameter by its angle to the build axis (z as designed; 0 upright, 90 in the layer), straight between the rows. */
  readonly biasByAngle: readonly { readonly angleDeg: number; readonly biasMm: number }[];
  /** Of each strut's diameter by itself. */
  readonly diameterScatterMm: number;
  /** Of all diameters of a part together: focus, energy, powder. */
  readonly partScatterMm: number;
  /** Of the difference of diameters between two opposite sides of a part, in a direction that is any for each part. */
  readonly driftMm: number;
  /** Of a part's size, its struts included: shrinkage that was guessed wrong. */
  readonly scalePct: number;
  /** Of its size along the build axis over that in the layer: it comes out a little long or short. */
  readonly upScalePct: number;
  readonly densityPct: number;
  /** Of the modulus of a part. */
  readonly modulusPct: number;
  /** Of the modulus along the build axis over that in the layer, about what the material says. */
  readonly directionPct: number;
}

/** What is assumed where nobody measured, with where each value comes from. */
export const COMMON_VARIATION: Variation = {
  biasByAngle: [
    { angleDeg: 0, biasMm: 0 },
    { angleDeg: 90, biasMm: 0.05 },
  ],
  diameterScatterMm: 0.05,
  partScatterMm: 0.05,
  driftMm: 0.05,
  scalePct: 0.15,
  upScalePct: 0.15,
  densityPct: 1.5,
  modulusPct: 8,
  directionPct: 5,
};

export const VARIATION_SOURCES: Readonly<Record<keyof Variation, string>> = {
  biasByAngle: 'trend read in copies (metal: diameters follow the inclination); half a layer more for struts in the layer is a judgement',
  diameterScatterMm: 'common practice, from memory: 0.05 to 0.1 mm',
  partScatterMm: 'from memory; design pages, read in copies, promise 0.3 mm below 100 mm, read here as all effects together',
  driftMm:
    'design pages, read in copies: up to 0.2 mm from the centre of the chamber to its edge; a quarter of it over one part is a judgement',
  scalePct: 'design pages, read in copies: 0.3 % of larger sizes, read here as two deviations',
  upScalePct:
    'trend read in copies: the factor for shrinkage along the build axis varies with the height; as much as in the layer is a judgement',
  densityPct: 'from memory: porosity of 3 to 10 % in sintered TPU, of which a well-kept process scatters over a few percent',
  modulusPct: 'a judgement: porosity, age of the powder and cooling',
  directionPct: 'from memory: moduli 5 to 10 % lower across the layers',
};

export interface VariationRefusal {
  readonly kind: 'refused';
  readonly code: 'variation-out-of-range' | 'variation-too-large';
  readonly message: string;
}

/** Chances of more than this many deviations are left out of account. */
const DEVIATIONS = 4;

/** null when every part that may be drawn has struts of at least half their diameter; else why not. Percents and mm from 0, rows that rise. */
export function refuseVariation(variation: Variation, thinnestMm: number): VariationRefusal | null {
  const { biasByAngle: rows, ...scatters } = variation;
  const refused = (code: VariationRefusal['code'], message: string): VariationRefusal => ({ kind: 'refused', code, message });
  for (const [name, value] of Object.entries(scatters)) {
    const most = name.endsWith('Pct') ? 20 : thinnestMm;
    if (!(value >= 0 && value <= most)) return refused('variation-out-of-range', `${name} is ${value}; allowed: 0 to ${most}`);
  }
  const rises = rows.every(
    ({ angleDeg, biasMm }, k) => Number.isFinite(biasMm) && angleDeg >= 0 && angleDeg <= 90 && (k === 0 || angleDeg > rows[k - 1].angleDeg),
  );
  if (!rises) return refused('variation-out-of-range', `biasByAngle is ${JSON.stringify(rows)}; allowed: angles that rise from 0 to 90`);
  const scatter = Math.hypot(variation.diameterScatterMm, variation.partScatterMm, variation.driftMm / 2);
  const least = Math.min(0, ...rows.map(({ biasMm }) => biasMm)) - DEVIATIONS * scatter;
  if (-least > thinnestMm / 2)
    return refused(
      'variation-too-large',
      `Struts of ${thinnestMm} mm may print ${(-least).toPrecision(3)} mm thinner; allowed: half of their diameter`,
    );
  return null;
}

/** Mean change of diameter at an angle; the nearest row's outside the rows, 0 without any. */
export function biasAt(rows: Variation['biasByAngle'], angleDeg: number): number {
  if (rows.length === 0) return 0;
  const above = rows.findIndex((row) => row.angleDeg >= angleDeg);
  if (above === 0) return rows[0].biasMm;
  if (above < 0) return rows[rows.length - 1].biasMm;
  const [low, high] = [rows[above - 1], rows[above]];
  return low.biasMm + ((angleDeg - low.angleDeg) / (high.angleDeg - low.angleDeg)) * (high.biasMm - low.biasMm);
}
