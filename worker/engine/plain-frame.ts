import type { StrutGraph } from './lattice/index.ts';

/** Struts with their lengths, triads (e1, e2, e3 as rows, 9 each) and natural stiffness (12 each): axial, twist, upper triangle of bending. */
export interface StrutFrame {
  readonly graph: StrutGraph;
  readonly lengthMm: Float64Array;
  readonly triads: Float64Array;
  readonly natural: Float64Array;
}

/**
 * The centre-line frame: prismatic Timoshenko struts of the mean of their end diameters, Cowper's shear coefficient (1966), joints without size. Softer
 * than the solid by up to a quarter where struts are short.
 */
export function plainFrame(graph: StrutGraph, { modulusMPa: E, poisson: nu }: { modulusMPa: number; poisson: number }): StrutFrame {
  const { strutCount, xyz, ends, diameters } = graph;
  const frame = {
    graph,
    lengthMm: new Float64Array(strutCount),
    triads: new Float64Array(9 * strutCount),
    natural: new Float64Array(12 * strutCount),
  };
  for (let s = 0; s < strutCount; s++) {
    const [a, b] = [3 * ends[2 * s], 3 * ends[2 * s + 1]];
    const d = [0, 1, 2].map((k) => xyz[b + k] - xyz[a + k]);
    const L = Math.hypot(...d);
    const e1 = d.map((each) => each / L);
    const e2 = unit(cross(e1, Math.abs(e1[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]));
    frame.lengthMm[s] = L;
    frame.triads.set([...e1, ...e2, ...cross(e1, e2)], 9 * s);
    const diameter = (diameters[2 * s] + diameters[2 * s + 1]) / 2;
    const [A, I] = [(Math.PI * diameter ** 2) / 4, (Math.PI * diameter ** 4) / 64];
    const G = E / (2 * (1 + nu));
    const Phi = (12 * E * I * (7 + 6 * nu)) / (6 * (1 + nu) * G * A * L * L);
    const [near, far] = [4 + Phi, 2 - Phi].map((each) => (each * E * I) / (L * (1 + Phi)));
    frame.natural.set([(E * A) / L, (2 * G * I) / L, near, 0, far, 0, near, 0, far, near, 0, near], 12 * s);
  }
  return frame;
}

const cross = (a: readonly number[], b: readonly number[]): number[] => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: readonly number[]): number[] => a.map((each) => each / Math.hypot(...a));
