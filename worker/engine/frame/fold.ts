import type { Placement } from './large-strut.ts';

/** Unknowns of a node: a shift (3) and a spin (3). */
const UNKNOWNS = 6;

/**
 * A frame of which only a part is computed, the rest being its images under a group of orthogonal matrices that its motion keeps to. Placements hold the
 * computed nodes, then ghosts: nodes at the far ends of computed struts that are images.
 */
export interface Fold {
  /** Computed nodes. */
  readonly count: number;
  /** Of which computed node each ghost is the image, and by which matrix (row-major, 9). */
  readonly ghosts: readonly { readonly of: number; readonly matrix: Float64Array }[];
  /** Computed node of each place, the ghosts' among them. */
  readonly of: Int32Array;
  /** What the unknowns of each place are of those of its computed node (6 x 6, row-major); null where they are the same. */
  readonly ties: readonly (Float64Array | null)[];
  /** Computed nodes that some matrices leave in place, which are these; so not all of their unknowns are free: see `ties`. */
  readonly standing: readonly { readonly node: number; readonly matrices: readonly Float64Array[] }[];
}

/** A fold of so many computed nodes. */
export function foldOf(count: number, ghosts: Fold['ghosts'], standing: Fold['standing']): Fold {
  const free = new Map(standing.map(({ node, matrices }) => [node, meanOf(matrices.map(onUnknowns))]));
  const own = Array.from({ length: count }, (_, node) => free.get(node) ?? null);
  const images = ghosts.map(({ of, matrix }) => {
    const image = onUnknowns(matrix);
    const kept = own[of];
    return kept ? product(image, kept) : image;
  });
  return {
    count,
    ghosts,
    of: Int32Array.from({ length: count + ghosts.length }, (_, k) => (k < count ? k : ghosts[k - count].of)),
    ties: [...own, ...images],
    standing,
  };
}

/** Shifts turn as arrows do; spins are no arrows, a mirror image turns them about. */
function onUnknowns(Q: Float64Array): Float64Array {
  const sign = Math.sign(Q[0] * (Q[4] * Q[8] - Q[5] * Q[7]) - Q[1] * (Q[3] * Q[8] - Q[5] * Q[6]) + Q[2] * (Q[3] * Q[7] - Q[4] * Q[6]));
  const T = new Float64Array(UNKNOWNS * UNKNOWNS);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      T[UNKNOWNS * i + j] = Q[3 * i + j];
      T[UNKNOWNS * (3 + i) + 3 + j] = sign * Q[3 * i + j];
    }
  }
  return T;
}

/** The mean over a group projects on what all of it leaves as it is. */
const meanOf = (matrices: readonly Float64Array[]): Float64Array =>
  matrices[0].map((_, k) => matrices.reduce((sum, each) => sum + each[k], 0) / matrices.length);

function product(A: Float64Array, B: Float64Array): Float64Array {
  const C = new Float64Array(UNKNOWNS * UNKNOWNS);
  for (let i = 0; i < UNKNOWNS; i++)
    for (let k = 0; k < UNKNOWNS; k++) for (let j = 0; j < UNKNOWNS; j++) C[UNKNOWNS * i + j] += A[UNKNOWNS * i + k] * B[UNKNOWNS * k + j];
  return C;
}

/** Puts the ghosts where the images are. */
export function placeGhosts({ count, ghosts }: Fold, placement: Placement): void {
  for (const [k, { of, matrix }] of ghosts.entries()) placeImage(placement, of, matrix, matrix, placement, count + k);
}

/** Takes from a placement what breaks the symmetry: what rounding leaves of it grows where a path is followed further and further. */
export function symmetrise(fold: Fold, placement: Placement): void {
  for (const { node, matrices } of fold.standing) {
    const images = matrices.map((matrix) => {
      const image = { positions: new Float64Array(3), rotations: new Float64Array(9) };
      placeImage(placement, node, matrix, matrix, image, 0);
      return image;
    });
    placement.positions.set(meanOf(images.map(({ positions }) => positions)), 3 * node);
    placement.rotations.set(squared(meanOf(images.map(({ rotations }) => rotations))), 9 * node);
  }
  placeGhosts(fold, placement);
}

/** A matrix that is nearly a rotation, made one: R (3 - R' R) / 2 (a step of Newton's way to the polar factor). */
function squared(R: Float64Array): Float64Array {
  const excess = (k: number, j: number) => (k === j ? 3 : 0) - (R[k] * R[j] + R[3 + k] * R[3 + j] + R[6 + k] * R[6 + j]);
  return R.map((_, at) => {
    const [i, j] = [at - (at % 3), at % 3];
    return (R[i] * excess(0, j) + R[i + 1] * excess(1, j) + R[i + 2] * excess(2, j)) / 2;
  });
}

/** Place Q x and rotation Q R Q0' of a node's image, by a matrix Q in space that is Q0 in the design, into another placement's node. */
export function placeImage(
  { positions, rotations }: Placement,
  node: number,
  Q0: Float64Array,
  Q: Float64Array,
  into: Placement,
  to: number,
): void {
  for (let i = 0; i < 3; i++) {
    const [a, b, c] = [Q[3 * i], Q[3 * i + 1], Q[3 * i + 2]];
    into.positions[3 * to + i] = a * positions[3 * node] + b * positions[3 * node + 1] + c * positions[3 * node + 2];
    for (let j = 0; j < 3; j++)
      turned[3 * i + j] = a * rotations[9 * node + j] + b * rotations[9 * node + 3 + j] + c * rotations[9 * node + 6 + j];
  }
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      into.rotations[9 * to + 3 * i + j] =
        turned[3 * i] * Q0[3 * j] + turned[3 * i + 1] * Q0[3 * j + 1] + turned[3 * i + 2] * Q0[3 * j + 2];
}
const turned = new Float64Array(9);

/** Gradient of one end's place (6, from `at`) in the unknowns of its computed node, in place: T' g. */
export function tieGradient(T: Float64Array, gradient: Float64Array, at: number): void {
  for (let j = 0; j < UNKNOWNS; j++) {
    let sum = 0;
    for (let i = 0; i < UNKNOWNS; i++) sum += T[UNKNOWNS * i + j] * gradient[at + i];
    tied[j] = sum;
  }
  for (let j = 0; j < UNKNOWNS; j++) gradient[at + j] = tied[j];
}
const tied = new Float64Array(UNKNOWNS);

/** A strut's tangent (12 x 12, row-major) in the unknowns of the computed nodes, in place: B' K B with B of the ties of end `end`, the other end's as it is. */
export function tieTangent(T: Float64Array, tangent: Float64Array, end: number): void {
  const at = UNKNOWNS * end;
  for (let r = 0; r < 2 * UNKNOWNS; r++) {
    for (let j = 0; j < UNKNOWNS; j++) {
      let sum = 0;
      for (let i = 0; i < UNKNOWNS; i++) sum += tangent[2 * UNKNOWNS * r + at + i] * T[UNKNOWNS * i + j];
      tied[j] = sum;
    }
    for (let j = 0; j < UNKNOWNS; j++) tangent[2 * UNKNOWNS * r + at + j] = tied[j];
  }
  for (let c = 0; c < 2 * UNKNOWNS; c++) {
    for (let j = 0; j < UNKNOWNS; j++) {
      let sum = 0;
      for (let i = 0; i < UNKNOWNS; i++) sum += T[UNKNOWNS * i + j] * tangent[2 * UNKNOWNS * (at + i) + c];
      tied[j] = sum;
    }
    for (let j = 0; j < UNKNOWNS; j++) tangent[2 * UNKNOWNS * (at + j) + c] = tied[j];
  }
}
