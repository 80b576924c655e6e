import type { Actions } from '../../worker/engine/frame/equilibrium.ts';
import type { StrutsAtRest } from '../../worker/engine/frame/large-strut.ts';

/** Stiffness of a prismatic section: axial, shear (infinite: none), torsion, bending about the strut's e2 and e3; N, N mm^2. */
export interface Section {
  readonly EA: number;
  readonly GA: number;
  readonly GJ: number;
  readonly EI2: number;
  readonly EI3: number;
}

export type Bars = StrutsAtRest & { readonly graph: { readonly nodeCount: number; readonly xyz: Float64Array; readonly ends: Int32Array } };

/** Bars of one section from node to node, given by pairs; e3 of each is the direction `up` made square to it. */
export function barsOf(
  places: readonly (readonly number[])[],
  pairs: readonly (readonly [number, number])[],
  section: Section,
  up: readonly number[],
): Bars {
  const lengthMm = new Float64Array(pairs.length);
  const triads = new Float64Array(9 * pairs.length);
  const natural = new Float64Array(12 * pairs.length);
  pairs.forEach(([a, b], s) => {
    const d = places[b].map((x, k) => x - places[a][k]);
    const L = Math.hypot(...d);
    const e1 = d.map((x) => x / L);
    const along = up.reduce((sum, x, k) => sum + x * e1[k], 0);
    const raw = up.map((x, k) => x - along * e1[k]);
    const e3 = raw.map((x) => x / Math.hypot(...raw));
    const e2 = [e3[1] * e1[2] - e3[2] * e1[1], e3[2] * e1[0] - e3[0] * e1[2], e3[0] * e1[1] - e3[1] * e1[0]];
    lengthMm[s] = L;
    triads.set([...e1, ...e2, ...e3], 9 * s);
    const [n2, f2] = plane(section.EI2, section.GA, L);
    const [n3, f3] = plane(section.EI3, section.GA, L);
    natural.set([section.EA / L, section.GJ / L, n2, 0, f2, 0, n3, 0, f3, n2, 0, n3], 12 * s);
  });
  return {
    graph: { nodeCount: places.length, xyz: Float64Array.from(places.flat()), ends: Int32Array.from(pairs.flat()) },
    lengthMm,
    triads,
    natural,
  };
}

/** Timoshenko: near and far stiffness, Phi = 12 EI / (GA L^2). */
function plane(EI: number, GA: number, L: number): [number, number] {
  const Phi = (12 * EI) / (GA * L * L);
  return [((4 + Phi) * EI) / (L * (1 + Phi)), ((2 - Phi) * EI) / (L * (1 + Phi))];
}

/** A row of bars through the places. */
export const chain = (places: readonly (readonly number[])[], section: Section, up: readonly number[]): Bars =>
  barsOf(
    places,
    places.slice(1).map((_, k) => [k, k + 1] as const),
    section,
    up,
  );

/** Dead forces on nodes, 3 per node in `forces`, scaled by `scale.of`. */
export function deadLoads(forces: ReadonlyMap<number, readonly number[]>, scale: { of: number }): Actions {
  const gradient: Actions['gradient'] = ({ positions }, out) => {
    let energy = 0;
    for (const [node, force] of forces) {
      for (let k = 0; k < 3; k++) {
        out[6 * node + k] -= scale.of * force[k];
        energy -= scale.of * force[k] * positions[3 * node + k];
      }
    }
    return energy;
  };
  return { gradient, tangent: gradient };
}

/** Marks unknowns as held. */
export function holding(nodeCount: number, unknowns: readonly number[]): Uint8Array {
  const held = new Uint8Array(6 * nodeCount);
  for (const each of unknowns) held[each] = 1;
  return held;
}

/** All six unknowns of a node. */
export const clamp = (node: number): number[] => [0, 1, 2, 3, 4, 5].map((k) => 6 * node + k);
