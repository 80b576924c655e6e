/**
 * What printing does to a part, and a material's record cannot know: how much thicker struts print, mm on the diameter, in the layer and along the build
 * axis; and factors on the record's density, modulus, loss factor, and on the lengths that joints hold.
 */
export const UNKNOWNS = [
  'growthInLayerMm',
  'growthUprightMm',
  'densityFactor',
  'modulusFactor',
  'lossFactorFactor',
  'jointFactor',
] as const;
export type Unknown = (typeof UNKNOWNS)[number];

/** The first two run in mm, the others in natural logarithms, in which they are as likely to be low as high. */
export const GROWTHS = 2;
export const isFactor = (unknown: number): boolean => unknown >= GROWTHS;

/** One value for each unknown. */
export type Values = Readonly<Record<Unknown, number>>;

/** Values as the fit runs in them, and back. */
export const coordinatesOf = (values: Values): Float64Array =>
  Float64Array.from(UNKNOWNS, (name, k) => (isFactor(k) ? Math.log(values[name]) : values[name]));
export const valuesOf = (x: ArrayLike<number>): Values =>
  Object.fromEntries(UNKNOWNS.map((name, k) => [name, isFactor(k) ? Math.exp(x[k]) : x[k]])) as Record<Unknown, number>;

/** What is believed before anything is measured: normal in the coordinates of the fit. `deviation`: mm of growths, of factors of their logarithm. */
export interface Belief {
  readonly value: number;
  readonly deviation: number;
}
export type Beliefs = Readonly<Record<Unknown, Belief>>;

/** Before anything is measured. Sources: those of the usual variation of printed parts (`vary/variation.ts`), and judgement where it says so. */
export const USUAL_BELIEFS: Beliefs = {
  // half a layer more in the layer than upright, and the order of what design pages promise for small sizes, 0.3 mm, as two deviations
  growthInLayerMm: { value: 0.05, deviation: 0.15 },
  growthUprightMm: { value: 0, deviation: 0.15 },
  // porosity of 3 to 10 % in sintered TPU, from memory
  densityFactor: { value: 1, deviation: 0.04 },
  // a judgement: moduli of prints lie within a fifth or so of what data sheets say of them
  modulusFactor: { value: 1, deviation: 0.2 },
  // a judgement: loss factors are read at other frequencies and temperatures than a bounce's
  lossFactorFactor: { value: 1, deviation: 0.25 },
  // the joint model meets single compliances of solids within 9 % (DEVELOPERS.md), which is about 15 % of the lengths
  jointFactor: { value: 1, deviation: 0.15 },
};

/** Beyond these the responses are not trusted: mm of growth; factors as evaluations take them. */
const LEAST = [-1, -1, 0.5, 0.2, 0.2, 0.2];
const MOST = [1, 1, 2, 5, 5, 3];
export const BOUNDS = {
  lower: Float64Array.from(LEAST, (value, k) => (isFactor(k) ? Math.log(value) : value)),
  upper: Float64Array.from(MOST, (value, k) => (isFactor(k) ? Math.log(value) : value)),
};
