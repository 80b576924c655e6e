import { massMatrix, type StrutFrame, stiffnessMatrix, vibration } from './frame/index.ts';
import { sumOfStruts } from './geometry.ts';
import type { EngineError } from './mechanics.ts';
import { T_PER_G } from './rebound.ts';

export interface Ringing {
  /** For the storage modulus. */
  readonly frame: StrutFrame;
  /** Of the union. */
  readonly massG: number;
  readonly poisson: number;
  /** How many frequencies. */
  readonly count: number;
  /** Called every few milliseconds; may throw. */
  readonly poll: () => void;
}

/** The contract's vibration of a free frame whose consistent mass is scaled to that of the union. */
export function ringing({ frame, massG, poisson, count, poll }: Ringing) {
  if (count === 0) return { vibration: null, error: null };
  const densityTMm3 = (massG * T_PER_G) / sumOfStruts(frame.graph);
  const stiffness = stiffnessMatrix(frame, poll);
  const mass = massMatrix(frame, { densityTMm3, poisson, poll });
  poll();
  const found = vibration(stiffness, mass, { count, poll });
  if (found.kind === 'vibration') return { vibration: { frequenciesHz: [...found.frequenciesHz] }, error: null };
  const message = `The natural frequencies were not found (${found.kind}).`;
  return { vibration: null, error: { code: found.kind, message } satisfies EngineError };
}

export type VibrationFigures = NonNullable<ReturnType<typeof ringing>['vibration']>;
