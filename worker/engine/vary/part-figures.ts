import type { StrutGraph } from '../lattice/index.ts';
import { type Moments, massProperties } from '../solid/index.ts';
import type { PrintedPart } from './printed-part.ts';

/** Figures that every part has, by their path in a result. */
export const FIGURES = [
  'massProperties.massG',
  'massProperties.volumeMm3',
  'massProperties.principalInertiaGMm2.0',
  'massProperties.principalInertiaGMm2.1',
  'massProperties.principalInertiaGMm2.2',
  'geometry.outsideDiameterMm',
  'geometry.circumferenceMm',
  'balance.centreOfMassOffsetMm',
  'balance.halfMassDifferencePct',
  'balance.inertiaSpreadPct',
  'balance.radialRunoutMm',
] as const;
export type Figure = (typeof FIGURES)[number];

/** The design as far as figures of its parts need it. */
export interface Nominal {
  readonly graph: StrutGraph;
  /** Nodes of layer 0, which come first. */
  readonly outerNodes: number;
  readonly circumferenceMm: number;
  readonly densityGMm3: number;
}

/**
 * Figures of a part with these moments (mm) and this half difference (mm3). The circumference follows the mean growth of the outer spheres: mean width
 * is twice the mean of the support function, of which every outer node carries about the same share, and an ellipsoid's the mean of its axes to
 * first order.
 */
export function partFigures(nominal: Nominal, part: PrintedPart, moments: Moments, halfDifferenceMm3: number): Record<Figure, number> {
  const { graph, outerNodes } = nominal;
  const { scale, upScale, nodeGrowthMm, densityFactor } = part;
  const { mass, volume, centre, principal } = massProperties(moments, [0, 0, 0], nominal.densityGMm3 * densityFactor);
  let [low, high, outside, grown] = [Number.POSITIVE_INFINITY, 0, 0, 0];
  for (let v = 0; v < outerNodes; v++) {
    const [x, y, z] = [scale * graph.xyz[3 * v], scale * graph.xyz[3 * v + 1], scale * upScale * graph.xyz[3 * v + 2]];
    const radius = scale * (graph.nodeRadius[v] + nodeGrowthMm[v]);
    const top = Math.hypot(x - centre[0], y - centre[1], z - centre[2]) + radius;
    [low, high] = [Math.min(low, top), Math.max(high, top)];
    outside = Math.max(outside, Math.hypot(x, y, z) + radius);
    grown += nodeGrowthMm[v] / outerNodes;
  }
  return {
    'massProperties.massG': mass,
    'massProperties.volumeMm3': volume,
    'massProperties.principalInertiaGMm2.0': principal[0],
    'massProperties.principalInertiaGMm2.1': principal[1],
    'massProperties.principalInertiaGMm2.2': principal[2],
    'geometry.outsideDiameterMm': 2 * outside,
    'geometry.circumferenceMm': ((scale * (2 + upScale)) / 3) * (nominal.circumferenceMm + 2 * Math.PI * grown),
    'balance.centreOfMassOffsetMm': Math.hypot(...centre),
    'balance.halfMassDifferencePct': (100 * Math.abs(halfDifferenceMm3)) / volume,
    'balance.inertiaSpreadPct': (300 * (principal[2] - principal[0])) / (principal[0] + principal[1] + principal[2]),
    'balance.radialRunoutMm': high - low,
  };
}
