import { UNKNOWNS } from './unknowns.ts';

/** How one quantity of a version follows the unknowns: ln q = ln value + slopes . v + growthCurvature w^2 / 2 + lossCurvature v_loss^2 / 2. */
export interface Response {
  /** As designed, of the material as its record says. */
  readonly value: number;
  /** By each coordinate of `relative`. */
  readonly slopes: readonly number[];
  /** Of ln q along growth of all struts alike, w = mean of v_inLayer and v_upright weighted by the sizes of their slopes. */
  readonly growthCurvature: number;
  readonly lossCurvature: number;
}

/** How a version follows the unknowns, by quantity. */
export interface VersionResponse {
  /** Mean over struts, mm: what growth is measured against. */
  readonly strutDiameterMm: number;
  readonly quantities: Readonly<Record<string, Response>>;
}

const LOSS = UNKNOWNS.indexOf('lossFactorFactor');

/** Growth as a logarithm, ln(1 + growth / diameter), in which powers of the diameter are straight; the others as they are. */
export const relative = (x: ArrayLike<number>, strutDiameterMm: number): Float64Array =>
  Float64Array.from(UNKNOWNS, (_, k) => (k < 2 ? Math.log(Math.max(1 + x[k] / strutDiameterMm, 0.05)) : x[k]));

/** Mean of the two growths, weighted by the size of what each does. */
function meanGrowth({ slopes: [a, b] }: Response, v: ArrayLike<number>): number {
  const share = a === 0 && b === 0 ? 0.5 : Math.abs(a) / (Math.abs(a) + Math.abs(b));
  return share * v[0] + (1 - share) * v[1];
}

/** ln of a quantity at a point x of the unknowns' coordinates. */
export function lnPredicted(version: VersionResponse, quantity: string, x: ArrayLike<number>): number {
  const response = version.quantities[quantity];
  const v = relative(x, version.strutDiameterMm);
  const straight = response.slopes.reduce((sum, slope, k) => sum + slope * v[k], 0);
  const w = meanGrowth(response, v);
  return Math.log(response.value) + straight + (response.growthCurvature * w * w + response.lossCurvature * v[LOSS] ** 2) / 2;
}

/** ln of a quantity where the engine was asked: as designed, all struts thicker and thinner by `h` mm, those in the layer thicker, and other unknowns. */
export interface Probes {
  readonly strutDiameterMm: number;
  readonly growthMm: number;
  readonly asDesigned: number;
  readonly thicker: number;
  readonly thinner: number;
  readonly inLayer: number;
  /** d ln q / d coordinate of density, modulus, loss factor and joint factor. */
  readonly others: readonly [number, number, number, number];
  readonly lossCurvature: number;
}

/** The response through probes: the parabola through three of them along equal growth, and in the layer the slope that meets the fourth. */
export function responseThrough(probes: Probes): Response {
  const { growthMm, strutDiameterMm, asDesigned } = probes;
  const [up, down] = [Math.log(1 + growthMm / strutDiameterMm), Math.log(1 - growthMm / strutDiameterMm)];
  const [above, below] = [(probes.thicker - asDesigned) / up, (probes.thinner - asDesigned) / down];
  const growthCurvature = (2 * (above - below)) / (up - down);
  const both = above - (growthCurvature * up) / 2;
  let inLayer = (probes.inLayer - asDesigned) / up;
  for (let k = 0; k < 20 && growthCurvature !== 0; k++) {
    const w = meanGrowth({ slopes: [inLayer, both - inLayer] } as unknown as Response, [up, 0]);
    inLayer = (probes.inLayer - asDesigned - (growthCurvature * w * w) / 2) / up;
  }
  const slopes = [inLayer, both - inLayer, ...probes.others];
  return { value: Math.exp(asDesigned), slopes, growthCurvature, lossCurvature: probes.lossCurvature };
}
