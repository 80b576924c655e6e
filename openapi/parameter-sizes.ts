import type { ParameterSet } from './parameter-set.ts';

type Layer = ParameterSet['layers'][number];

/** Largest triangulation number T = m^2 + mn + n^2 the service evaluates. */
export const MAX_T = 400;

/** T = m^2 + mn + n^2, the number of small triangles on one icosahedron face. */
export const triangulationNumber = (m: number, n: number): number => m * m + m * n + n * n;

/** Edge of a regular hexagon of area 4 pi / (10T + 2) on the unit sphere: sqrt(8 pi / (3 sqrt(3) (10T + 2))). */
export const idealEdge = (T: number): number => Math.sqrt((8 * Math.PI) / (3 * Math.sqrt(3) * (10 * T + 2)));

/** Largest diameter that a shaping makes of one, anywhere. */
const thickest = (diameter: number, { taper, gradient }: Pick<Layer, 'taper' | 'gradient'>): number =>
  diameter * Math.max(1, taper ?? 1) * (gradient ? Math.max(gradient.fromFactor, gradient.toFactor) : 1);

/** Largest diameter of a layer's struts. */
export const layerWidth = (layer: Layer): number => thickest(layer.strutDiameterMm, layer);
/** Largest diameter of the links; 0 without any. */
export const linkWidth = ({ links }: Pick<ParameterSet, 'links'>): number =>
  links.pattern === 'none' ? 0 : thickest(links.strutDiameterMm ?? 0, links);

/** Centre-line radius of layer 0 (mm): the outside radius less the radius of the largest node sphere that layer could have. */
export function outerNodeRadiusMm(set: Pick<ParameterSet, 'carrier' | 'layers' | 'links'>): number {
  return set.carrier.outsideDiameterMm / 2 - Math.max(layerWidth(set.layers[0]), linkWidth(set)) / 2;
}

/** m and n of a parameter set, or of the tiling whose cells come nearest to its size: of several with one T the one with mirror planes. */
export function tilingOf(set: ParameterSet): { m: number; n: number } {
  const { m, n, cellSizeMm } = set.tiling;
  if (cellSizeMm === undefined) return { m: m ?? 0, n: n ?? 0 };
  const off = (each: { m: number; n: number }) =>
    Math.abs(Math.sqrt(3) * idealEdge(triangulationNumber(each.m, each.n)) * outerNodeRadiusMm(set) - cellSizeMm);
  return TILINGS.reduce((best, each) => (off(each) < off(best) ? each : best));
}

/** Every m >= n with T up to the largest; those with mirror planes first, so that they win where T is the same. */
const TILINGS = Array.from({ length: 21 * 21 }, (_, k) => ({ m: Math.floor(k / 21), n: k % 21 }))
  .filter(({ m, n }) => m >= n && m > 0 && triangulationNumber(m, n) <= MAX_T)
  .sort((a, b) => Number(a.n % a.m !== 0) - Number(b.n % b.m !== 0));
