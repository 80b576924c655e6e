import type { StrutGraph } from '../lattice/index.ts';
import { builtDiameterMm, shrinkageScale } from './chamber.ts';
import { strutAxis, type Vector } from './strut-axis.ts';
import type { PrintMaterial } from './types.ts';

/** The part as it is built: larger, so that it has its size once it has shrunk. */
export interface AsBuilt {
  /** Built size over designed size along x, y, z. */
  scale: [number, number, number];
  /** Of the part along x, y, z. */
  outsideDiameterMm: [number, number, number];
  /** Of the sphere that stands for it in the chamber. */
  packingDiameterMm: number;
  /** Thinnest and thickest section of any strut; a round strut becomes oval where the scales differ. */
  strutDiameterMm: { min: number; max: number };
  volumeMm3: number;
  assumptions: string[];
}

/** Shrinkage compensation applied to a part. volumeMm3: of the part as designed. */
export function asBuilt(
  graph: StrutGraph,
  outsideDiameterMm: number,
  volumeMm3: number,
  material: Pick<PrintMaterial, 'shrinkagePct'>,
): AsBuilt {
  const scale = shrinkageScale(material);
  let [min, max] = [Infinity, 0];
  for (let s = 0; s < graph.strutCount; s++) {
    const [small, large] = sectionScales(strutAxis(graph, s).along, scale);
    const [a, b] = [graph.diameters[2 * s], graph.diameters[2 * s + 1]];
    min = Math.min(min, small * Math.min(a, b));
    max = Math.max(max, large * Math.max(a, b));
  }
  return {
    scale,
    outsideDiameterMm: [outsideDiameterMm * scale[0], outsideDiameterMm * scale[1], outsideDiameterMm * scale[2]],
    packingDiameterMm: builtDiameterMm(outsideDiameterMm, material),
    strutDiameterMm: { min, max },
    volumeMm3: volumeMm3 * scale[0] * scale[1] * scale[2],
    assumptions: [
      'The part is scaled by 1 / (1 - shrinkage) along each axis of the build and shrinks back to its designed size.',
      'Shrinkage is taken as the same everywhere in the chamber; in practice it differs between the middle and the walls, and with height.',
    ],
  };
}

/**
 * Semi-axes of the section that a cylinder of radius 1 along the unit vector `along` has after scaling: it becomes an elliptic cylinder, whose
 * section is the shadow of the scaled sphere along its new axis w. With Q = diag(scale^2), the squares of the semi-axes are the two other
 * eigenvalues of P Q P, P = 1 - w w^T: their sum is tr Q - w Q w and their product is det Q * w Q^-1 w.
 */
export function sectionScales(along: Vector, scale: Vector): [number, number] {
  const moved: Vector = [along[0] * scale[0], along[1] * scale[1], along[2] * scale[2]];
  const square = moved[0] ** 2 + moved[1] ** 2 + moved[2] ** 2;
  let [sum, product] = [0, 0];
  for (let k = 0; k < 3; k++) {
    const q = scale[k] ** 2;
    sum += q * (1 - moved[k] ** 2 / square);
    product += moved[k] ** 2 / square / q;
  }
  product *= (scale[0] * scale[1] * scale[2]) ** 2;
  const half = Math.sqrt(Math.max(0, sum * sum - 4 * product));
  return [Math.sqrt((sum - half) / 2), Math.sqrt((sum + half) / 2)];
}
