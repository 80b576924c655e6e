import { type ObliqueBounce, obliqueDrop } from './impact/index.ts';
import type { EngineError } from './mechanics.ts';
import { type DropHooks, type Dropping, T_PER_G } from './rebound.ts';

/** A throw at the floor; the speed left out is that of the drop. */
export interface ThrowTest {
  readonly angleDeg: number;
  readonly speedMS?: number;
  readonly spinRadS: number;
  readonly friction: number;
}

const GRAVITY_M_S2 = 9.80665;
const MM_PER_M = 1000;

/** The contract's oblique bounces, one in each orientation, and the failure of the worst beside them. */
export function thrownOf({ frame, massG, material, orientations, conditions }: Dropping, test: ThrowTest, hooks: DropHooks) {
  const speedMS = test.speedMS ?? Math.sqrt((2 * GRAVITY_M_S2 * conditions.heightMm) / MM_PER_M);
  const { relaxation } = material;
  const outcome = obliqueDrop({ frame, massT: massG * T_PER_G, relaxation }, { ...test, speedMS, orientations }, hooks);
  if (outcome.kind === 'report') {
    const { angleDeg, spinRadS, friction } = test;
    return { thrown: { speedMS, angleDeg, spinRadS, friction, byOrientation: outcome.byOrientation.map(bounceFigures) }, error: null };
  }
  const error: EngineError = { code: outcome.kind, message: 'message' in outcome ? outcome.message : 'The throw was cancelled.' };
  return { thrown: null, error };
}

export type ThrownFigures = NonNullable<ReturnType<typeof thrownOf>['thrown']>;

function bounceFigures({ orientation, sidewaysMS, otherSpinRadS, ...bounce }: ObliqueBounce) {
  const [alongRadS, uprightRadS] = otherSpinRadS;
  return { name: orientation, ...bounce, sidewaysSpeedMS: sidewaysMS, spinAlongRadS: alongRadS, spinUprightRadS: uprightRadS };
}
