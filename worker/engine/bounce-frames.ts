import type { EngineInput } from './evaluate.ts';
import { G_MM3_PER_G_CM3 } from './figures.ts';
import { framedAt, unitFrame } from './framed.ts';
import { type Film, filmDrop, orientationsOf } from './impact/index.ts';
import { latticeOf, tilingOf } from './laid-out.ts';
import type { StrutGraph } from './lattice/index.ts';
import { materialAt } from './material-at.ts';
import type { EngineError } from './mechanics.ts';
import { type DropHooks, settleDrop, T_PER_G } from './rebound.ts';
import { integrateUnion, massProperties, unionSurface } from './solid/index.ts';

/** One bounce as pictures: about 60 to 120 at equally spaced times. */
export interface BounceFrames extends Omit<Film, 'kind'> {
  /** As `rebound.byOrientation` of the evaluation names it. */
  readonly orientation: string;
  /** Of the design: nodes, struts and radii in the order of the frames. */
  readonly graph: StrutGraph;
}
export type BounceFramesOutcome =
  | ({ readonly kind: 'frames' } & BounceFrames)
  | { readonly kind: 'failed'; readonly error: EngineError }
  | { readonly kind: 'cancelled' };

/**
 * The bounce of an evaluation in one of its orientations (the first unless named), frame by frame: what `evaluate` told the height, force and strain of. The
 * same input gives the same frames. Failed: what keeps an evaluation from bouncing, and `unknown-orientation`.
 */
export function bounceFrames(input: EngineInput, orientation?: string, hooks: DropHooks = {}): BounceFramesOutcome {
  const { parameterSet, material: record, reference, tests } = input;
  const { tiling } = tilingOf(parameterSet);
  const laid = latticeOf(parameterSet, tiling);
  if (laid.kind === 'fault') return { kind: 'failed', error: laid.fault };
  const material = materialAt(record, tests.temperatureC);
  if (material.kind === 'refused') return failed(material.code, material.message);

  const { graph, symmetry } = laid.lattice;
  const { heightMm, orientations: count, seed, friction, drag } = settleDrop(tests.drop, reference?.dropHeightMm ?? null);
  const orientations = orientationsOf(laid.lattice, tiling.symmetry.rotations, count, seed);
  const chosen = orientation === undefined ? orientations[0] : orientations.find(({ name }) => name === orientation);
  const names = orientations.map(({ name }) => name).join(', ');
  if (!chosen) return failed('unknown-orientation', `The orientation is ${orientation}; this evaluation drops: ${names}.`);

  const { moments } = integrateUnion(graph, unionSurface(graph), symmetry);
  const { mass } = massProperties(moments, [0, 0, 0], record.densityGCm3 * G_MM3_PER_G_CM3);
  const frame = framedAt(unitFrame(graph, record.poisson), material.relaxation.longTermMPa, record.directionFactors ?? null);
  const dropped = { frame, massT: mass * T_PER_G, relaxation: material.relaxation };
  const film = filmDrop(dropped, { heightMm, friction, drag }, chosen.down, hooks);
  if (film.kind === 'cancelled') return film;
  if (film.kind !== 'film') return failed(film.kind, film.message);
  return { ...film, kind: 'frames', orientation: chosen.name, graph };
}

const failed = (code: string, message: string): BounceFramesOutcome => ({ kind: 'failed', error: { code, message } });
