import { describe, expect, it } from 'vitest';
import { NO_ZONE, type Zone } from '../../../worker/engine/frame/end-zones.ts';
import { strutFlexibility } from '../../../worker/engine/frame/strut-flexibility.ts';
import { strutFrame } from '../../../worker/engine/frame/strut-frame.ts';
import { graphOf, plainFrame } from '../impact/lattices.ts';

const STRUT = { lengthMm: 10, diameter0: 4.2, diameter1: 2.9, modulusMPa: 60, poisson: 0.45 };
const ZONES: [Zone, Zone] = [
  { lengthMm: 1.7, axial: 0.6, torsion: 0.5, shear: 0.8, bending: [0.3, 0.1, 0.7] },
  { lengthMm: 2.1, axial: 0.9, torsion: 0.7, shear: 0.4, bending: [0.6, -0.2, 0.5] },
];

/** The same integrals by the midpoint rule; error of order 1 / steps^2 but for the steps cut by a zone's end, which divide evenly here. */
function byMidpoints(steps: number) {
  const { lengthMm: L, modulusMPa: E, poisson: nu } = STRUT;
  const [G, kappa] = [E / (2 * (1 + nu)), (6 * (1 + nu)) / (7 + 6 * nu)];
  let [axial, twist] = [0, 0];
  const bending = new Float64Array(16);
  for (let k = 0; k < steps; k++) {
    const x = (L * (k + 0.5)) / steps;
    const d = STRUT.diameter0 + ((STRUT.diameter1 - STRUT.diameter0) * x) / L;
    const zone = x < ZONES[0].lengthMm ? ZONES[0] : x > L - ZONES[1].lengthMm ? ZONES[1] : NO_ZONE;
    const [A, I, h] = [(Math.PI * d * d) / 4, (Math.PI * d ** 4) / 64, L / steps];
    axial += (zone.axial * h) / (E * A);
    twist += (zone.torsion * h) / (G * 2 * I);
    const N = [1 - x / L, -x / L];
    const D = [
      [zone.bending[0], zone.bending[1]],
      [zone.bending[1], zone.bending[2]],
    ];
    for (let i = 0; i < 4; i++)
      for (let j = 0; j < 4; j++) {
        bending[4 * i + j] += (h * N[i >> 1] * N[j >> 1] * D[i & 1][j & 1]) / (E * I);
        if ((i & 1) === (j & 1)) bending[4 * i + j] += (zone.shear * h) / (kappa * G * A * L * L);
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
    const short = (lengthMm: number) => strutFlexibility({ ...STRUT, lengthMm }, ...ZONES).axial;
    expect(Math.abs(short(3.8 + 1e-9) - short(3.8 - 1e-9))).toBeLessThan(1e-9);
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
      lengthMm: new Float64Array(8).fill(1),
      axial: new Float64Array(8).fill(1),
      torsion: new Float64Array(8).fill(1),
      shear: new Float64Array(8).fill(1),
      bendingInPlane: new Float64Array(8).fill(0),
      bendingOutOfPlane: new Float64Array(8).fill(1),
      normal: Float64Array.from({ length: 24 }, (_, k) => [0, 0, 1][k % 3]),
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
