import { describe, expect, it } from 'vitest';
import type { Zone } from '../../../worker/engine/frame/end-zones.ts';
import { strutFlexibility } from '../../../worker/engine/frame/strut-flexibility.ts';
import { strutFrame } from '../../../worker/engine/frame/strut-frame.ts';
import { graphOf, plainFrame } from '../impact/lattices.ts';

const STRUT = { lengthMm: 10, diameter0: 4.2, diameter1: 2.9, modulusMPa: 60, poisson: 0.45 };
const ANGLES = [0.4, -1.1];
const ZONES = [
  { axial: 1.5, torsion: 1.25, shear: 0.75, bending: 2, bendingAcross: 1 },
  { axial: 0.5, torsion: 0.25, shear: 1, bending: 1.25, bendingAcross: 0.75 },
].map((zone, end): Zone => ({ ...zone, n2: Math.cos(ANGLES[end]), n3: Math.sin(ANGLES[end]) })) as [Zone, Zone];

/** The same integrals by the midpoint rule, error of order 1 / steps^2: the zones' ends fall between steps. */
function byMidpoints(steps: number) {
  const { lengthMm: L, modulusMPa: E, poisson: nu } = STRUT;
  const [G, kappa] = [E / (2 * (1 + nu)), (6 * (1 + nu)) / (7 + 6 * nu)];
  let [axial, twist] = [0, 0];
  const bending = new Float64Array(16);
  for (let k = 0; k < steps; k++) {
    const x = (L * (k + 0.5)) / steps;
    const d = STRUT.diameter0 + ((STRUT.diameter1 - STRUT.diameter0) * x) / L;
    const gives = (mode: 'axial' | 'torsion' | 'shear' | 'bending' | 'bendingAcross', end: 0 | 1) =>
      (end === 0 ? x : L - x) > ZONES[end][mode] ? 1 : 0;
    const both = (mode: 'axial' | 'torsion' | 'shear') => gives(mode, 0) * gives(mode, 1);
    const [A, I, h] = [(Math.PI * d * d) / 4, (Math.PI * d ** 4) / 64, L / steps];
    axial += (both('axial') * h) / (E * A);
    twist += (both('torsion') * h) / (G * 2 * I);
    const N = [1 - x / L, -x / L];
    // What gives: all of both axes, less the direction that is rigid in either zone.
    const D = [
      [1, 0],
      [0, 1],
    ];
    for (const end of [0, 1] as const) {
      const { n2, n3 } = ZONES[end];
      for (const [mode, p, q] of [
        ['bending', n2, n3],
        ['bendingAcross', -n3, n2],
      ] as const) {
        if (gives(mode, end)) continue;
        for (const [i, a] of [p, q].entries()) for (const [j, b] of [p, q].entries()) D[i][j] -= a * b;
      }
    }
    for (let i = 0; i < 4; i++)
      for (let j = 0; j < 4; j++) {
        bending[4 * i + j] += (h * N[i >> 1] * N[j >> 1] * D[i & 1][j & 1]) / (E * I);
        if ((i & 1) === (j & 1)) bending[4 * i + j] += (both('shear') * h) / (kappa * G * A * L * L);
      }
  }
  return [axial, twist, ...bending];
}

describe('the flexibility of a strut', () => {
  it('is the integral of its section flexibilities, through taper and zones', () => {
    const { axial, twist, bending } = strutFlexibility(STRUT, ...ZONES);
    const exact = [axial, twist, ...bending];
    const [coarse, fine] = [byMidpoints(200), byMidpoints(400)];
    for (const [k, value] of exact.entries()) {
      // Midpoint rule of second order: a quarter of the error at twice the steps, and extrapolation hits the closed form.
      const extrapolated = fine[k] + (fine[k] - coarse[k]) / 3;
      expect(Math.abs(extrapolated - value)).toBeLessThan(1e-8 * Math.abs(axial + Math.abs(value)));
    }
  });

  it('lets zones that would meet share the strut in proportion, without a jump', () => {
    const wide = (bending: number) => {
      const zone: Zone = { axial: bending, torsion: bending, shear: bending, bending, bendingAcross: bending, n2: 1, n3: 0 };
      const { axial, twist, bending: matrix } = strutFlexibility(STRUT, zone, zone);
      return [axial, twist, matrix[0], matrix[10]];
    };
    const [before, after, beyond] = [wide(4 - 1e-9), wide(4 + 1e-9), wide(7)];
    for (let k = 0; k < 4; k++) {
      expect(Math.abs(after[k] / before[k] - 1)).toBeLessThan(1e-8);
      expect(beyond[k]).toBeCloseTo(after[k], 9);
      expect(beyond[k]).toBeGreaterThan(0);
    }
  });
});

describe('the frame of a graph', () => {
  const places = [
    [0, 0, 0],
    [7, 3, -2],
    [1, -6, 9],
    [0, 0, 5],
  ] as const;
  const graph = graphOf(
    places,
    [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 0],
    ],
    3,
  );

  it('has the closed form of a prismatic Timoshenko strut', () => {
    const expected = plainFrame(graph, 60);
    const { natural, lengthMm } = strutFrame(graph, { modulusMPa: 60, poisson: 0.45 });
    for (let k = 0; k < natural.length; k++) expect(natural[k]).toBeCloseTo(expected.natural[k], 9);
    for (let s = 0; s < 4; s++) expect(lengthMm[s]).toBeCloseTo(expected.lengthMm[s], 12);
  });

  it('has right-handed triads of unit length, the first along the strut', () => {
    const { triads, lengthMm } = strutFrame(graph, { modulusMPa: 60, poisson: 0.45 });
    for (let s = 0; s < 4; s++) {
      const [e1, e2, e3] = [0, 3, 6].map((k) => [...triads.subarray(9 * s + k, 9 * s + k + 3)]);
      const dot = (a: number[], b: number[]) => a.reduce((sum, each, k) => sum + each * b[k], 0);
      for (const [value, expected] of [
        [dot(e1, e1), 1],
        [dot(e2, e2), 1],
        [dot(e3, e3), 1],
        [dot(e1, e2), 0],
        [dot(e1, e3), 0],
        [dot(e2, e3), 0],
      ])
        expect(value).toBeCloseTo(expected, 14);
      expect(
        e1[0] * (e2[1] * e3[2] - e2[2] * e3[1]) + e1[1] * (e2[2] * e3[0] - e2[0] * e3[2]) + e1[2] * (e2[0] * e3[1] - e2[1] * e3[0]),
      ).toBeCloseTo(1, 14);
      const [a, b] = [graph.ends[2 * s], graph.ends[2 * s + 1]];
      for (let k = 0; k < 3; k++) expect(e1[k] * lengthMm[s]).toBeCloseTo(places[b][k] - places[a][k], 12);
    }
  });

  it('bends more easily out of the plane of a joint than in it where the zones say so', () => {
    const zones = {
      axial: new Float64Array(2),
      torsion: new Float64Array(2),
      shear: new Float64Array(2),
      bending: new Float64Array(2).fill(2),
      bendingAcross: new Float64Array(2),
      normal: Float64Array.of(0, 0, 1, 0, 0, 1),
    };
    // Strut 0 of a flat frame lies in the plane whose normal is z: bending about z counts from the ends of the zones, bending about the other axis does not.
    const flat = graphOf(
      [
        [0, 0, 0],
        [10, 0, 0],
      ],
      [[0, 1]],
      3,
    );
    const [plain, zoned] = [
      strutFrame(flat, { modulusMPa: 60, poisson: 0.45 }),
      strutFrame(flat, { modulusMPa: 60, poisson: 0.45 }, zones),
    ];
    const zAxis = Math.abs(plain.triads[5]) > 0.5 ? 0 : 1;
    const diagonal = (frame: typeof plain, axis: number) => frame.natural[2 + (axis === 0 ? 0 : 4)];
    expect(diagonal(zoned, zAxis)).toBeGreaterThan(1.5 * diagonal(plain, zAxis));
    expect(diagonal(zoned, 1 - zAxis)).toBeCloseTo(diagonal(plain, 1 - zAxis), 9);
    expect(zoned.natural[0]).toBeCloseTo(plain.natural[0], 9);
  });
});
