import type { Lattice, StrutGraph } from '../../../worker/engine/lattice/index.ts';
import type { BuildVolume, PrintMaterial } from '../../../worker/engine/print/index.ts';

export type Point = readonly [number, number, number];
/** Node, node, diameter at the first, diameter at the second (the same when left out). */
export type Strut = readonly [number, number, number, number?];

export function graphOf(points: readonly Point[], struts: readonly Strut[]): StrutGraph {
  const ends = Int32Array.from(struts.flatMap((strut) => [strut[0], strut[1]]));
  const diameters = Float64Array.from(struts.flatMap(([, , d, e]) => [d, e ?? d]));
  const nodeRadius = new Float64Array(points.length);
  ends.forEach((node, end) => {
    nodeRadius[node] = Math.max(nodeRadius[node], diameters[end] / 2);
  });
  return {
    nodeCount: points.length,
    strutCount: struts.length,
    xyz: Float64Array.from(points.flat()),
    ends,
    diameters,
    roles: new Int32Array(struts.length),
    roleNames: ['layer-0'],
    nodeRadius,
  };
}

/** Turns every point about the z axis, then about the x axis. */
export function turned(points: readonly Point[], aboutZ: number, aboutX: number): Point[] {
  const [cz, sz, cx, sx] = [Math.cos(aboutZ), Math.sin(aboutZ), Math.cos(aboutX), Math.sin(aboutX)];
  return points.map(([x, y, z]) => {
    const [u, v] = [cz * x - sz * y, sz * x + cz * y];
    return [u, cx * v - sx * z, sx * v + cx * z];
  });
}

const signs = [-1, 1];
const PHI = (1 + Math.sqrt(5)) / 2;
const cyclic = (a: number, b: number, c: number): Point[] => [
  [a, b, c],
  [c, a, b],
  [b, c, a],
];

/** Solids in textbook coordinates: corners, and a direction through the middle of every face. */
export const CUBE = {
  corners: signs.flatMap((x) => signs.flatMap((y) => signs.map((z): Point => [x, y, z]))),
  faces: signs.flatMap((s) => cyclic(s, 0, 0)),
};
export const DODECAHEDRON = {
  corners: [...CUBE.corners, ...signs.flatMap((s) => signs.flatMap((t) => cyclic(0, s / PHI, t * PHI)))],
  faces: signs.flatMap((s) => signs.flatMap((t) => cyclic(0, s * PHI, t))),
};

export interface Cage {
  /** Factor on the solid's corners for each layer, outermost first. */
  readonly scales: readonly number[];
  readonly diameters: readonly number[];
  readonly postDiameter?: number;
}

/** A lattice on a solid: its edges in every layer, posts between the layers at every corner. */
export function cageLattice({ corners, faces }: typeof CUBE, { scales, diameters, postDiameter = 0 }: Cage): Lattice {
  const rings = faces.map((direction) => ringOf(corners, direction));
  const edges = new Map<string, number>();
  const key = (a: number, b: number) => `${Math.min(a, b)}-${Math.max(a, b)}`;
  const pairs = rings.flatMap((ring) => ring.map((node, i) => [node, ring[(i + 1) % ring.length]] as const));
  for (const [a, b] of pairs) if (!edges.has(key(a, b))) edges.set(key(a, b), edges.size);
  const edgeList = [...edges.keys()].map((text) => text.split('-').map(Number));
  const n = corners.length;
  const linked = postDiameter > 0;
  const struts: Strut[] = scales.flatMap((_, k) => edgeList.map(([a, b]): Strut => [k * n + a, k * n + b, diameters[k]]));
  if (linked)
    for (let k = 0; k + 1 < scales.length; k++) for (let v = 0; v < n; v++) struts.push([k * n + v, (k + 1) * n + v, postDiameter]);
  const points = scales.flatMap((scale) => corners.map(([x, y, z]): Point => [scale * x, scale * y, scale * z]));
  const sizes = rings.map((ring) => ring.length);
  const roles = Int32Array.from(struts, (_, k) => Math.min(scales.length, Math.floor(k / edgeList.length)));
  const roleNames = [...scales.map((_, k) => `layer-${k}`), 'link'];
  return {
    graph: { ...graphOf(points, struts), roles, roleNames },
    symmetry: null,
    layerCount: scales.length,
    nodeRadiusMm: scales.map((scale) => scale * Math.hypot(...corners[0])),
    nodesPerLayer: n,
    strutsPerLayer: edgeList.length,
    linked,
    braced: false,
    spanCount: struts.length,
    spanOf: struts.map((_, k) => k),
    spanDiameterMm: Float64Array.from(struts, ([, , a, b = a]) => Math.max(a, b)),
    edges: Int32Array.from(edgeList.flat()),
    cellCount: rings.length,
    cellPtr: Int32Array.from([0, ...sizes.map((_, i) => sizes.slice(0, i + 1).reduce((a, b) => a + b, 0))]),
    cellNodes: Int32Array.from(rings.flat()),
    cellStruts: Int32Array.from(pairs.map(([a, b]) => edges.get(key(a, b))!)),
  };
}

/** Corners furthest along the direction, counter-clockwise seen from outside. */
function ringOf(corners: readonly Point[], direction: Point): number[] {
  const dot = (a: Point, b: Point) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const cross = (a: Point, b: Point): Point => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const furthest = Math.max(...corners.map((corner) => dot(corner, direction)));
  const ring = [...corners.keys()].filter((i) => dot(corners[i], direction) > furthest - 1e-9);
  const u = cross(direction, corners[ring[0]]);
  const v = cross(direction, u);
  const angle = (i: number) => Math.atan2(dot(corners[i], v) / Math.hypot(...v), dot(corners[i], u) / Math.hypot(...u));
  return ring.sort((i, j) => angle(i) - angle(j));
}

export const MATERIAL: PrintMaterial = {
  bulkDensityGCm3: 0.5,
  virginSharePct: 50,
  pricePerKg: { amount: 90, currency: 'EUR' },
  minStrutMm: 1,
  minGapMm: 1,
  minOpeningMm: 3.5,
  shrinkagePct: [0, 0, 0],
};

export const VOLUME: BuildVolume = {
  sizeMm: [300, 300, 400],
  wallMarginMm: 10,
  partSpacingMm: 5,
  layerMm: 0.1,
  recoatS: 10,
  minLayerS: 12,
  scanSpeedMmS: 4000,
  contourSpeedMmS: 2000,
  hatchMm: 0.2,
  warmUpHours: 2,
  coverMm: 5,
  coolDownHoursPerBuildHour: 1,
  hourlyRate: { amount: 25, currency: 'EUR' },
  setUpHours: 0.5,
};
