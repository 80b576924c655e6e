import type { Actions } from '../frame/index.ts';
import type { StrutGraph } from '../lattice/index.ts';

/** Two rigid, frictionless, level plates, and what they press with; mm, N. */
export interface Plates {
  /** Sum of the approach from where both just touch the outermost node spheres. */
  deflectionMm: number;
  readonly lowMm: number;
  readonly highMm: number;
  /** On nodes with these radii; `share`: that of each node in the energy, default 1. */
  actionsOn(radius: Float64Array, share?: Float64Array): Actions;
  /** Forces at the present placement: mean of both plates, and how many nodes touch each. */
  read(positions: Float64Array): { forceN: number; below: number; above: number };
}

/** Stiffness of the contact at one node over the axial stiffness of the stiffest strut: so a plate gives far less than one strut. */
const PENALTY = 500;

/** Plates about a graph along z. A node sphere that is past a plate by g is pushed back with stiffness * g; energy stiffness g^2 / 2. */
export function platesOf({ nodeCount, xyz, nodeRadius }: StrutGraph, natural: Float64Array): Plates {
  let [lowMm, highMm, stiffness] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (let v = 0; v < nodeCount; v++) {
    lowMm = Math.min(lowMm, xyz[3 * v + 2] - nodeRadius[v]);
    highMm = Math.max(highMm, xyz[3 * v + 2] + nodeRadius[v]);
  }
  for (let k = 0; k < natural.length; k += 12) stiffness = Math.max(stiffness, PENALTY * natural[k]);
  const past = (positions: Float64Array, v: number, radius: number, plate: 'below' | 'above') =>
    plate === 'below'
      ? lowMm + plates.deflectionMm / 2 - positions[3 * v + 2] + radius
      : positions[3 * v + 2] + radius - (highMm - plates.deflectionMm / 2);
  const plates: Plates = {
    deflectionMm: 0,
    lowMm,
    highMm,
    actionsOn(radius, share) {
      const press = (positions: Float64Array, gradient: Float64Array, stiffen: (unknown: number, by: number) => void) => {
        let energy = 0;
        for (let v = 0; v < radius.length; v++) {
          for (const plate of ['below', 'above'] as const) {
            const g = past(positions, v, radius[v], plate);
            if (g <= 0) continue;
            const own = stiffness * (share?.[v] ?? 1);
            energy += (own * g * g) / 2;
            gradient[6 * v + 2] += (plate === 'below' ? -1 : 1) * own * g;
            stiffen(6 * v + 2, own);
          }
        }
        return energy;
      };
      return {
        gradient: ({ positions }, gradient) => press(positions, gradient, () => {}),
        tangent: ({ positions }, gradient, { colPtr, values }) =>
          press(positions, gradient, (unknown, by) => {
            values[colPtr[unknown]] += by;
          }),
      };
    },
    read(positions) {
      const sums = { below: 0, above: 0 };
      const counts = { below: 0, above: 0 };
      for (let v = 0; v < nodeCount; v++) {
        for (const plate of ['below', 'above'] as const) {
          const g = past(positions, v, nodeRadius[v], plate);
          if (g <= 0) continue;
          sums[plate] += stiffness * g;
          counts[plate]++;
        }
      }
      return { forceN: (sums.below + sums.above) / 2, ...counts };
    },
  };
  return plates;
}

/**
 * What keeps a part between plates as it was laid, as the little friction of real ones does: on the whole it does not turn about x or y, so it neither rolls
 * to where it is thinner nor sways. Nor does it move sideways or turn about z, to which no force drives it. Rows over the unknowns, unit length each.
 */
export function steadyGuides({ nodeCount, xyz }: StrutGraph): Float64Array[] {
  const mean = [0, 1, 2].map((k) => xyz.reduce((sum, x, at) => (at % 3 === k ? sum + x / nodeCount : sum), 0));
  const rows = Array.from({ length: 5 }, () => new Float64Array(6 * nodeCount));
  for (let v = 0; v < nodeCount; v++) {
    const [x, y, z] = mean.map((centre, k) => xyz[3 * v + k] - centre);
    const moves = [
      [0, -z, y],
      [z, 0, -x],
      [-y, x, 0],
      [1, 0, 0],
      [0, 1, 0],
    ];
    for (const [k, move] of moves.entries()) rows[k].set(move, 6 * v);
  }
  // A straight row of struts along an axis cannot be turned about it by shifts.
  return rows.filter((row) => row.some((each) => Math.abs(each) > 1e-9)).map(unit);
}

function unit(row: Float64Array): Float64Array {
  const size = Math.sqrt(row.reduce((sum, each) => sum + each * each, 0));
  return row.map((each) => each / size);
}
