import type { Placement } from '../../../worker/engine/frame/large-strut.ts';

/** exp of the cross matrix of `spin`, row-major (Rodrigues). */
export function rotationOf(spin: readonly number[]): Float64Array {
  const angle = Math.hypot(...spin);
  const [x, y, z] = angle > 0 ? spin.map((each) => each / angle) : [0, 0, 0];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const C = 1 - c;
  return Float64Array.of(
    c + C * x * x,
    C * x * y - s * z,
    C * x * z + s * y,
    C * x * y + s * z,
    c + C * y * y,
    C * y * z - s * x,
    C * x * z - s * y,
    C * y * z + s * x,
    c + C * z * z,
  );
}

export const turned = (R: ArrayLike<number>, x: readonly number[]): number[] =>
  [0, 1, 2].map((i) => R[3 * i] * x[0] + R[3 * i + 1] * x[1] + R[3 * i + 2] * x[2]);

/** A placement with everything moved: places by `moves[6 v ..]`, rotations by exp(`moves[6 v + 3 ..]`) from the left. */
export function moved({ positions, rotations }: Placement, moves: ArrayLike<number>): Placement {
  const next = { positions: positions.slice(), rotations: rotations.slice() };
  for (let v = 0; v < positions.length / 3; v++) {
    const R = rotationOf([0, 1, 2].map((i) => moves[6 * v + 3 + i]));
    for (let i = 0; i < 3; i++) {
      next.positions[3 * v + i] += moves[6 * v + i];
      const column = turned(
        R,
        [0, 1, 2].map((k) => rotations[9 * v + 3 * k + i]),
      );
      column.forEach((each, k) => (next.rotations[9 * v + 3 * k + i] = each));
    }
  }
  return next;
}

/** All nodes at their reference. */
export function atRest(xyz: ArrayLike<number>): Placement {
  const rotations = new Float64Array(3 * xyz.length);
  for (let v = 0; v < xyz.length / 3; v++) for (let i = 0; i < 3; i++) rotations[9 * v + 4 * i] = 1;
  return { positions: Float64Array.from(xyz), rotations };
}
