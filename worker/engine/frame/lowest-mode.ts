import { multiply } from '../sparse/index.ts';
import { type Guide, guided } from './guide.ts';
import type { FrameTangent } from './large-frame.ts';

const ROUNDS = 40;
const ENOUGH = 1e-3;
/** Share of the irregular vector beside a guess. */
const IRREGULAR = 0.1;

/**
 * Lowest eigenvalue of K v = value W v (W diagonal) on moves that the guide of K itself allows, by inverse iteration on K + shift W; the vector has
 * v W v = 1. Starts from a guess, such as the mode of a tangent near by, and always with a fixed, irregular vector, so that it misses no mode by symmetry.
 */
export function lowestMode(
  tangent: FrameTangent,
  weights: Float64Array,
  guide: Guide,
  near: Float64Array | null,
  isCancelled: () => boolean,
): { value: number; vector: Float64Array } {
  const { n } = tangent;
  const [vector, image] = [new Float64Array(n), new Float64Array(n)];
  const share = near ? IRREGULAR : 1;
  for (let k = 0; k < n; k++) {
    const irregular = Math.sin(12.9898 * (k + 1) * (k + 1)) * Math.sqrt(weights[k] / n);
    image[k] = share * irregular + (near ? weights[k] * near[k] : 0);
  }
  let value = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS && !isCancelled(); round++) {
    guided(guide, image, vector);
    let size = 0;
    for (let k = 0; k < n; k++) size += weights[k] * vector[k] * vector[k];
    const scale = 1 / Math.sqrt(size);
    for (let k = 0; k < n; k++) vector[k] *= scale;
    multiply(tangent, vector, image);
    let next = 0;
    for (let k = 0; k < n; k++) next += vector[k] * image[k];
    const settled = Math.abs(next - value) <= ENOUGH * (Math.abs(next) + guide.shift);
    value = next;
    if (settled) break;
    for (let k = 0; k < n; k++) image[k] = weights[k] * vector[k];
  }
  return { value, vector };
}
