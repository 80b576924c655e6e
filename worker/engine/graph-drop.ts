import { framedAt, type Joints, unitFrame } from './framed.ts';
import { massOfGraph } from './graph-mass.ts';
import { orientationsOfGraph } from './impact/index.ts';
import type { StrutGraph } from './lattice/index.ts';
import { type MechanicalMaterial, materialAt } from './material-at.ts';
import type { EngineError } from './mechanics.ts';
import { type ReboundFigures, reboundOf, settleDrop } from './rebound.ts';

export interface GraphDrop {
  readonly material: MechanicalMaterial;
  readonly joints: Joints;
  readonly heightMm: number;
  readonly orientations: number;
  readonly seed: number;
}

/**
 * The contract's rebound of a bare graph, with the mass of its union: -z as stored at the floor, then seeded directions. A failure stands beside the
 * numbers so far, if there are any.
 */
export function dropOfGraph(
  graph: StrutGraph,
  { material: record, joints, ...asked }: GraphDrop,
): { rebound: ReboundFigures | null; error: EngineError | null } {
  const material = materialAt(record, undefined);
  if (material.kind === 'refused') return { rebound: null, error: { code: material.code, message: material.message } };
  const conditions = settleDrop(asked, null);
  return reboundOf(
    {
      frame: framedAt(unitFrame(graph, record.poisson, { joints }), material.relaxation.longTermMPa, null),
      massG: massOfGraph(graph, record.densityGCm3).massG,
      material,
      orientations: orientationsOfGraph(conditions.orientations, conditions.seed),
      conditions,
    },
    {},
  );
}
