import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { type Moments, secondMoments } from './moments.ts';

export type Vector = [number, number, number];
export type Tensor = [Vector, Vector, Vector];

/** Volume (mm3), mass, centre of mass (mm), inertia about the centre of mass and its principal values ascending (mass unit mm2). */
export interface MassProperties {
  readonly volume: number;
  readonly mass: number;
  readonly centre: Vector;
  readonly inertia: Tensor;
  readonly principal: Vector;
}

/** From moments about `origin` (mm) and density (mass unit per mm3): I = tr(S) 1 - S with S taken about the centre of mass (Steiner). */
export function massProperties(moments: Moments, origin: readonly number[], density: number): MassProperties {
  const volume = moments[0];
  const offset = [1, 2, 3].map((k) => moments[k] / volume);
  const about = secondMoments(moments).map((row, i) => row.map((value, j) => value - volume * offset[i] * offset[j]));
  const trace = about[0][0] + about[1][1] + about[2][2];
  const inertia = about.map((row, i) => row.map((value, j) => density * ((i === j ? trace : 0) - value))) as Tensor;
  const { realEigenvalues } = new EigenvalueDecomposition(new Matrix(inertia), { assumeSymmetric: true });
  return {
    volume,
    mass: density * volume,
    centre: offset.map((x, k) => x + origin[k]) as Vector,
    inertia,
    principal: [...realEigenvalues].sort((a, b) => a - b) as Vector,
  };
}
