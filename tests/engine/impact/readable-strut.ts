import { STRUT_NUMBERS } from '../../../worker/engine/impact/strut-program.ts';
import type { Struts } from '../../../worker/engine/impact/struts.ts';

/**
 * The deformations q of strut s as their program defines them, but by the arc functions themselves, into `q` (6). Independent of the program: the check of it.
 */
export function deformationsOf(
  { ends, numbers }: Struts,
  s: number,
  positions: Float64Array,
  rotations: Float64Array,
  q: Float64Array,
): void {
  const k = STRUT_NUMBERS * s;
  const [a, b] = [ends[2 * s], ends[2 * s + 1]];
  const dx = positions[3 * b] - positions[3 * a];
  const dy = positions[3 * b + 1] - positions[3 * a + 1];
  const dz = positions[3 * b + 2] - positions[3 * a + 2];
  const l = Math.sqrt(dx * dx + dy * dy + dz * dz);
  for (let end = 0; end < 2; end++) {
    const r = 9 * (end === 0 ? a : b);
    turned(rotations, r, numbers, k, axes, 6 * end);
    turned(rotations, r, numbers, k + 3, axes, 6 * end + 3);
    const s2 = (dx * axes[6 * end] + dy * axes[6 * end + 1] + dz * axes[6 * end + 2]) / l;
    const s3 = (dx * axes[6 * end + 3] + dy * axes[6 * end + 4] + dz * axes[6 * end + 5]) / l;
    const z = s2 * s2 + s3 * s3;
    const f = z > 0 ? Math.asin(Math.sqrt(z)) / Math.sqrt(z) : 1;
    q[1 + 2 * end] = f * s3;
    q[2 + 2 * end] = -f * s2;
  }
  q[5] = Math.atan2(dot(axes, 3, 6) - dot(axes, 0, 9), dot(axes, 0, 6) + dot(axes, 3, 9));
  const bow = 2 * (q[1] * q[1] + q[2] * q[2] + q[3] * q[3] + q[4] * q[4]) - q[1] * q[3] - q[2] * q[4];
  q[0] = l - numbers[k + 6] + numbers[k + 7] * bow;
}

/** force = K q with the natural stiffness of strut s; both of 6. */
export function naturalForces({ numbers }: Struts, s: number, q: Float64Array, force: Float64Array): void {
  const k = STRUT_NUMBERS * s + 8;
  force[0] = numbers[k] * q[0];
  force[1] = numbers[k + 2] * q[1] + numbers[k + 3] * q[2] + numbers[k + 4] * q[3] + numbers[k + 5] * q[4];
  force[2] = numbers[k + 3] * q[1] + numbers[k + 6] * q[2] + numbers[k + 7] * q[3] + numbers[k + 8] * q[4];
  force[3] = numbers[k + 4] * q[1] + numbers[k + 7] * q[2] + numbers[k + 9] * q[3] + numbers[k + 10] * q[4];
  force[4] = numbers[k + 5] * q[1] + numbers[k + 8] * q[2] + numbers[k + 10] * q[3] + numbers[k + 11] * q[4];
  force[5] = numbers[k + 1] * q[5];
}

/** Scratch: t2 and t3 of both ends. */
const axes = new Float64Array(12);

function turned(R: Float64Array, r: number, x: Float64Array, at: number, out: Float64Array, to: number): void {
  for (let i = 0; i < 3; i++) out[to + i] = R[r + 3 * i] * x[at] + R[r + 3 * i + 1] * x[at + 1] + R[r + 3 * i + 2] * x[at + 2];
}

const dot = (x: Float64Array, i: number, j: number): number => x[i] * x[j] + x[i + 1] * x[j + 1] + x[i + 2] * x[j + 2];
