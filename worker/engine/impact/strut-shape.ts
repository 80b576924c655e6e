import type { Address, LaneProgram, Lanes, Pair } from '../lanes/index.ts';
import { type LaneVector, vectorsOf } from './lane-vectors.ts';

/** Numbers a strut keeps: e2 (3), e3 (3), L, L / 30, kAxial, kTwist, upper triangle of the bending matrix by rows (10). */
export const STRUT_NUMBERS = 20;
/** Deformations of a strut: stretch, phi0_2, phi0_3, phi1_2, phi1_3, twist. */
export const DEFORMATIONS = 6;
/** Bytes of a number in both lanes, and of the four nodes of a pair of struts. */
export const LANES = 16;
const ENDS = 16;

/** asin(S) / S = 1 + z / 6 + .. with z = S^2: least squares on S <= 0.6 (37 degrees), error 1.6e-7. */
export const ARC = [1 / 6, 0.07491817, 0.04636554, 0.01869832, 0.05209661] as const;

/** Bytes by which the lists of struts move on from one pair to the next. */
export const nextPair = (numbers: Address, ends: Address, memory: Address, branches: number) =>
  [
    [numbers, STRUT_NUMBERS * LANES],
    [ends, ENDS],
    [memory, branches * DEFORMATIONS * LANES],
  ] as const;

/** Places of one end's nodes in a list with a number of doubles per node. */
export const nodesOf = (p: LaneProgram, ends: Address, end: number, list: Address, doubles: number): Pair => [
  p.element(list, ends, 8 * end, 8 * doubles),
  p.element(list, ends, 8 * end + 4, 8 * doubles),
];

/** How one end section stands to the chord. */
interface End {
  readonly t1: LaneVector;
  readonly t2: LaneVector;
  readonly t3: LaneVector;
  /** e.t2, e.t3, their squares' sum, and f of it. */
  readonly s2: Lanes;
  readonly s3: Lanes;
  readonly z: Lanes;
  readonly f: Lanes;
}

export interface Shape {
  readonly q: readonly Lanes[];
  readonly e: LaneVector;
  readonly perLength: Lanes;
  readonly ends: readonly [End, End];
  /** 1 + t1.t1', and tan(tau / 2) squared. */
  readonly alike: Lanes;
  readonly half2: Lanes;
}

/** The deformations of two struts, and what their derivatives need. */
export function shapeOf(p: LaneProgram, numbers: Address, ends: Address, positions: Address, rotations: Address): Shape {
  const { sum, dot, minus, times, cross, turned } = vectorsOf(p);
  const { constant, add, sub, mul, div } = p;
  const vector = (places: Pair, at: number): LaneVector => [p.gather(places, at), p.gather(places, at + 8), p.gather(places, at + 16)];
  const number = (k: number) => p.load(numbers, LANES * k);
  const one = constant(1);
  const d = minus(vector(nodesOf(p, ends, 1, positions, 3), 0), vector(nodesOf(p, ends, 0, positions, 3), 0));
  const l = p.sqrt(dot(d, d));
  const perLength = div(one, l);
  const e = times(perLength, d);
  const e2: LaneVector = [number(0), number(1), number(2)];
  const e3: LaneVector = [number(3), number(4), number(5)];
  const endAt = (end: number): End => {
    const places = nodesOf(p, ends, end, rotations, 9);
    const rows = [vector(places, 0), vector(places, 24), vector(places, 48)];
    const [t2, t3] = [turned(rows, e2), turned(rows, e3)];
    const [s2, s3] = [dot(e, t2), dot(e, t3)];
    const z = add(mul(s2, s2), mul(s3, s3));
    return { t1: cross(t2, t3), t2, t3, s2, s3, z, f: series(p, z, [1, ...ARC]) };
  };
  const [a, b] = [endAt(0), endAt(1)];
  const phi = [mul(a.f, a.s3), sub(constant(0), mul(a.f, a.s2)), mul(b.f, b.s3), sub(constant(0), mul(b.f, b.s2))];
  const alike = add(one, dot(a.t1, b.t1));
  const half = div(sub(dot(a.t3, b.t2), dot(a.t2, b.t3)), sum(dot(a.t2, b.t2), dot(a.t3, b.t3), alike));
  const half2 = mul(half, half);
  const tau = mul(half, series(p, half2, [2, -2 / 3, 2 / 5, -2 / 7, 2 / 9]));
  const squares = sum(mul(phi[0], phi[0]), mul(phi[1], phi[1]), mul(phi[2], phi[2]), mul(phi[3], phi[3]));
  const bow = sub(add(squares, squares), add(mul(phi[0], phi[2]), mul(phi[1], phi[3])));
  const stretch = add(sub(l, number(6)), mul(number(7), bow));
  return { q: [stretch, ...phi, tau], e, perLength, ends: [a, b], alike, half2 };
}

/** K q. */
export function naturalForces(p: LaneProgram, q: readonly Lanes[], numbers: Address): Lanes[] {
  const number = (k: number) => p.load(numbers, LANES * k);
  const { sum } = vectorsOf(p);
  const B = Array.from({ length: 10 }, (_, k) => number(10 + k));
  const rows = [
    [0, 1, 2, 3],
    [1, 4, 5, 6],
    [2, 5, 7, 8],
    [3, 6, 8, 9],
  ];
  const bending = rows.map(([i, j, k, l]) => sum(p.mul(B[i], q[1]), p.mul(B[j], q[2]), p.mul(B[k], q[3]), p.mul(B[l], q[4])));
  return [p.mul(number(8), q[0]), ...bending, p.mul(number(9), q[5])];
}

/** Polynomial by Horner's rule, lowest coefficient first. */
export function series(p: LaneProgram, x: Lanes, coefficients: readonly number[]): Lanes {
  return coefficients
    .slice(0, -1)
    .reduceRight<Lanes>((value, each) => p.add(p.constant(each), p.mul(x, value)), p.constant(coefficients[coefficients.length - 1]));
}
