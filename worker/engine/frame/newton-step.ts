import { multiply } from '../sparse/index.ts';
import { type Guide, guided } from './guide.ts';
import type { FrameTangent } from './large-frame.ts';

/** Share of the energy won so far that the last round may win: three steps of Newton then lead from a rough guess to the end. */
const LEFT = 1e-4;
const MOST_ROUNDS = 40;

/**
 * An approximate Newton step, K step = -gradient on moves that the guide allows, by preconditioned conjugate gradients (Hestenes & Stiefel 1952; within
 * linear conditions Gould, Hribar & Nocedal 2001). Stops where it meets a direction without positive curvature; answers the last curvature met.
 * The step is always one along which the energy falls.
 */
export function conjugateGradients(
  tangent: FrameTangent,
  guide: Guide,
  gradient: Float64Array,
  step: Float64Array,
  isCancelled: () => boolean,
): { rounds: number; curvature: number } {
  const { n } = tangent;
  const [r, z, d, Kd] = [gradient.slice(), new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  step.fill(0);
  guided(guide, r, z);
  let rz = product(r, z);
  let won = 0;
  let curvature = 1;
  for (let k = 0; k < n; k++) d[k] = -z[k];
  let rounds = 0;
  while (rounds < MOST_ROUNDS && rz > 0 && !isCancelled()) {
    rounds++;
    multiply(tangent, d, Kd);
    curvature = product(d, Kd);
    if (curvature <= 0) {
      if (rounds === 1) step.set(d);
      break;
    }
    const alpha = rz / curvature;
    for (let k = 0; k < n; k++) {
      step[k] += alpha * d[k];
      r[k] += alpha * Kd[k];
    }
    won += alpha * rz;
    if (alpha * rz <= LEFT * won) break;
    guided(guide, r, z);
    const next = product(r, z);
    const beta = next / rz;
    rz = next;
    for (let k = 0; k < n; k++) d[k] = beta * d[k] - z[k];
  }
  return { rounds, curvature };
}

function product(x: Float64Array, y: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < x.length; k++) sum += x[k] * y[k];
  return sum;
}
