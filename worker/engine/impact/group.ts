/** The group that holds nothing but the identity. */
export const ALONE = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);

/** Determinant of the matrix at offset g: 1 for a rotation, -1 for a mirror image. */
export const determinant = (Q: Float64Array, g: number): number =>
  Q[g] * (Q[g + 4] * Q[g + 8] - Q[g + 5] * Q[g + 7]) -
  Q[g + 1] * (Q[g + 3] * Q[g + 8] - Q[g + 5] * Q[g + 6]) +
  Q[g + 2] * (Q[g + 3] * Q[g + 7] - Q[g + 4] * Q[g + 6]);

/**
 * What all members of a group (matrices, row-major, 9 each) leave of a vector, in place: the mean of Q x. An `axial` vector, a spin or a moment, is turned
 * about by a mirror image: the mean of det(Q) Q x.
 */
export function averageOver(group: Float64Array, x: Float64Array | number[], kind: 'polar' | 'axial'): void {
  const order = group.length / 9;
  let [a, b, c] = [0, 0, 0];
  for (let g = 0; g < group.length; g += 9) {
    const sign = kind === 'axial' ? determinant(group, g) : 1;
    a += sign * (group[g] * x[0] + group[g + 1] * x[1] + group[g + 2] * x[2]);
    b += sign * (group[g + 3] * x[0] + group[g + 4] * x[1] + group[g + 5] * x[2]);
    c += sign * (group[g + 6] * x[0] + group[g + 7] * x[1] + group[g + 8] * x[2]);
  }
  x[0] = a / order;
  x[1] = b / order;
  x[2] = c / order;
}

/** The mean of Q T Q^T, T and the answer as xx, yy, zz, xy, xz, yz. */
export function averageTensor(group: Float64Array, [xx, yy, zz, xy, xz, yz]: readonly number[]): number[] {
  const T = [xx, xy, xz, xy, yy, yz, xz, yz, zz];
  const order = group.length / 9;
  const entry = (i: number, j: number) => {
    let sum = 0;
    for (let g = 0; g < group.length; g += 9)
      for (let k = 0; k < 3; k++) for (let l = 0; l < 3; l++) sum += group[g + 3 * i + k] * T[3 * k + l] * group[g + 3 * j + l];
    return sum / order;
  };
  return [entry(0, 0), entry(1, 1), entry(2, 2), entry(0, 1), entry(0, 2), entry(1, 2)];
}
