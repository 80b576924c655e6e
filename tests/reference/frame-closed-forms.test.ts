import { describe, expect, it } from 'vitest';
import {
  buckling,
  linearStatics,
  massMatrix,
  NODE_UNKNOWNS,
  type StrutFrame,
  stiffnessMatrix,
  strutFrame,
  vibration,
} from '../../worker/engine/frame/index.ts';
import { chain, ring, type Section, sectionFrame } from './sections.ts';

const ELASTIC = { modulusMPa: 60, poisson: 0.48 };
const E = 60;
const D = 3;
const [A, I] = [(Math.PI * D ** 2) / 4, (Math.PI * D ** 4) / 64];
const G = E / (2 * 1.48);
const KAPPA = (6 * 1.48) / (7 + 6 * 0.48);

type Held = Record<number, string>;
const AXES = 'xyzabc';
/** Unknowns held, by node: letters x, y, z for displacement, a, b, c for rotation about them. */
const heldOf = (held: Held): Map<number, number> =>
  new Map(
    Object.entries(held).flatMap(([node, letters]) =>
      [...letters].map((each) => [NODE_UNKNOWNS * Number(node) + AXES.indexOf(each), 0] as const),
    ),
  );

/** Displacement of all unknowns under forces given by node and letter. */
function solved(frame: StrutFrame, held: Held, loads: readonly (readonly [number, string, number])[]) {
  const load = new Float64Array(NODE_UNKNOWNS * frame.graph.nodeCount);
  for (const [node, letter, value] of loads) load[NODE_UNKNOWNS * node + AXES.indexOf(letter)] += value;
  const found = linearStatics(frame, { held: heldOf(held), load });
  if (found.kind !== 'displaced') throw new Error(found.kind);
  return (node: number, letter: string) => found.displacement[NODE_UNKNOWNS * node + AXES.indexOf(letter)];
}

const beam = (count: number, length: number) =>
  strutFrame(
    chain(
      Array.from({ length: count + 1 }, (_, k) => [(length * k) / count, 0, 0]),
      D,
    ),
    ELASTIC,
  );
const ALL = 'xyzabc';

// Beam formulas: any handbook of structural mechanics (Roark's Formulas for Stress and Strain, table 8.1), from memory; with the shear coefficient of
// Cowper (1966). Exact for the member used here, so rounding alone separates them: 1e-10.
describe('beams, closed forms of handbooks', () => {
  it('cantilever with a tip load: P L^3 / 3EI + P L / kappa G A, slope P L^2 / 2EI; 11.178 + 0.155 mm worked by hand', () => {
    const at = solved(beam(1, 20), { 0: ALL }, [[1, 'y', 1]]);
    const [bend, shear] = [20 ** 3 / (3 * E * I), 20 / (KAPPA * G * A)];
    expect(at(1, 'y') / (bend + shear)).toBeCloseTo(1, 10);
    expect(at(1, 'c') / (20 ** 2 / (2 * E * I))).toBeCloseTo(1, 10);
    expect(bend).toBeCloseTo(11.178, 3);
    expect(shear).toBeCloseTo(0.155, 3);
  });

  it('simply supported with a mid load: P L^3 / 48EI + P L / 4 kappa G A; 10.916 mm worked by hand, without shear', () => {
    const at = solved(beam(2, 50), { 0: 'xyza', 2: 'yz' }, [[1, 'y', 1]]);
    const bend = 50 ** 3 / (48 * E * I);
    expect(bend).toBeCloseTo(10.916, 3);
    expect(at(1, 'y') / (bend + 50 / (4 * KAPPA * G * A))).toBeCloseTo(1, 10);
  });

  it('fixed at both ends with a mid load: P L^3 / 192EI; one end guided: P L^3 / 12EI', () => {
    const shear = KAPPA * G * A;
    expect(solved(beam(2, 50), { 0: ALL, 2: ALL }, [[1, 'y', 1]])(1, 'y') / (50 ** 3 / (192 * E * I) + 50 / (4 * shear))).toBeCloseTo(
      1,
      10,
    );
    expect(solved(beam(1, 50), { 0: ALL, 1: 'xzabc' }, [[1, 'y', 1]])(1, 'y') / (50 ** 3 / (12 * E * I) + 50 / shear)).toBeCloseTo(1, 10);
  });

  it('extension P L / EA, twist T L / GJ', () => {
    const at = solved(beam(1, 20), { 0: ALL }, [
      [1, 'x', 1],
      [1, 'a', 1],
    ]);
    expect(at(1, 'x') / (20 / (E * A))).toBeCloseTo(1, 12);
    expect(at(1, 'a') / (20 / (G * 2 * I))).toBeCloseTo(1, 12);
  });
});

// Euler: P = pi^2 E I / (K L)^2 with K = 2, 1, 0.7 (0.69916), 0.5; shear lowers it to P / (1 + P / kappa G A) (Timoshenko and Gere 1961, 2.17, for the
// built-in free and pinned bars), here by less than 0.4 %. d 3, L 20, E 60: 5.886 N pinned, 23.545 N fixed, worked by hand.
describe('Euler buckling', () => {
  const cases: [string, Held, number][] = [
    ['fixed and free', { 0: ALL }, 2],
    ['pinned', { 0: 'xyza', 16: 'yz' }, 1],
    ['fixed and pinned', { 0: ALL, 16: 'yz' }, 0.69916],
    ['fixed', { 0: ALL, 16: 'yzabc' }, 0.5],
  ];
  it.each(cases)('%s', (_, held, K) => {
    const length = 60;
    const frame = beam(16, length);
    const load = new Float64Array(NODE_UNKNOWNS * 17);
    load[NODE_UNKNOWNS * 16] = -1;
    const found = buckling(frame, { held: heldOf(held), load }, 0.48);
    const euler = (Math.PI ** 2 * E * I) / (K * length) ** 2;
    const withShear = euler / (1 + euler / (KAPPA * G * A));
    // Sixteen cubic members leave 1e-5 of an Euler load (fourth order) where the bar is fixed at both ends, less elsewhere; the shear formula holds for pinned, free and
    // fixed bars, for the propped one it is an approximation within 1e-3 of itself here.
    expect(found.kind === 'buckling' && found.factor && Math.abs(found.factor / withShear - 1)).toBeLessThan(1e-3);
  });

  it('gives the worked loads', () => {
    expect((Math.PI ** 2 * E * I) / 20 ** 2).toBeCloseTo(5.886, 3);
    expect((4 * Math.PI ** 2 * E * I) / 20 ** 2).toBeCloseTo(23.545, 2);
  });
});

/** Error of a ring of `count` chords falls with its square: extrapolated from two. */
const extrapolated = (coarse: number, fine: number): number => fine + (fine - coarse) / 3;

// Thin ring, inextensional (Roark, table 9.2; Timoshenko and Gere 1961): closed forms, computed again. Stretch and shear add (r / R)^2 of the whole:
// d 1, R 100 leaves 3e-5.
describe('rings', () => {
  const [R, d] = [100, 1];
  const EI = (E * Math.PI * d ** 4) / 64;
  const frameOf = (count: number) => strutFrame(ring(count, R, d), ELASTIC);

  it('under two opposed loads: closing 0.148779 P R^3 / EI, widening 0.136620; moment 0.318310 P R under the load', () => {
    const given = (count: number) => {
      const quarter = count / 4;
      // Held by symmetry: the ring's own unknowns out of its plane, and node 0 on its axis.
      const held: Held = { 0: 'xzab', [quarter]: 'yz', [2 * quarter]: 'z' };
      const at = solved(frameOf(count), { ...held, 0: 'yzab', [quarter]: 'xz', [2 * quarter]: 'z' }, [
        [0, 'x', -1],
        [2 * quarter, 'x', 1],
      ]);
      return { closing: at(2 * quarter, 'x') - at(0, 'x'), widening: at(quarter, 'y') - at(3 * quarter, 'y') };
    };
    const [coarse, fine] = [given(80), given(160)];
    const unit = R ** 3 / EI;
    expect(extrapolated(coarse.closing, fine.closing) / unit / 0.148779).toBeCloseTo(1, 3);
    expect(extrapolated(coarse.widening, fine.widening) / unit / 0.13662).toBeCloseTo(1, 3);
  });

  it('ring at the frequencies of Hoppe in its plane and of Love out of it', () => {
    const density = 1.12e-9;
    const unit = Math.sqrt(EI / (density * ((Math.PI * d ** 2) / 4) * R ** 4)) / (2 * Math.PI);
    const nu = ELASTIC.poisson;
    const expected = [2, 3].flatMap((n) => {
      const square = n ** 2 * (n ** 2 - 1) ** 2;
      return [square / (n ** 2 + 1), square / (n ** 2 + 1 + nu)].flatMap((each) => [Math.sqrt(each) * unit, Math.sqrt(each) * unit]);
    });
    expected.sort((a, b) => a - b);
    const found = (count: number) => {
      const frame = frameOf(count);
      const modes = vibration(stiffnessMatrix(frame), massMatrix(frame, { densityTMm3: density, poisson: nu }), { count: 8 });
      if (modes.kind !== 'vibration') throw new Error(modes.kind);
      expect(modes.rigidMotions).toBe(6);
      return modes.frequenciesHz;
    };
    const [coarse, fine] = [found(40), found(80)];
    for (let k = 0; k < 8; k++) expect(extrapolated(coarse[k], fine[k]) / expected[k]).toBeCloseTo(1, 3);
    // Factors as tabulated for n = 2: 2.68328 in the plane, 2.5631 out of it (nu 0.48).
    expect(expected[2] / unit).toBeCloseTo(2.68328, 5);
    expect(expected[0] / unit).toBeCloseTo(2.5631, 4);
  });

  it('buckles under a radial load that keeps its direction at 4 EI / R^3 (Bresse 1866 has 3 EI / R^3 for a pressure that follows)', () => {
    // Dead radial loads: q = 4 EI / R^3 (Boresi 1955; Timoshenko and Gere 1961, 7.2, note), from memory; a load towards the centre gives 4.5.
    const found = (count: number) => {
      const frame = frameOf(count);
      const load = new Float64Array(NODE_UNKNOWNS * count);
      for (let v = 0; v < count; v++) {
        const [x, y] = frame.graph.xyz.subarray(3 * v, 3 * v + 2);
        const share = (2 * Math.PI * R) / count / R;
        load.set([-share * x, -share * y], NODE_UNKNOWNS * v);
      }
      // Flat: every node stays in the plane.
      const held: Held = Object.fromEntries(Array.from({ length: count }, (_, v) => [v, 'zab']));
      // The two-lobed shape neither moves along the ring nor turns at its four extremes; held there, the ring cannot turn as a whole either, which this
      // load would help it to.
      for (const v of [0, count / 2]) held[v] = 'yzabc';
      for (const v of [count / 4, (3 * count) / 4]) held[v] = 'xzabc';
      const result = buckling(frame, { held: heldOf(held), load }, ELASTIC.poisson);
      if (result.kind !== 'buckling' || !result.factor) throw new Error(result.kind);
      return result.factor;
    };
    expect(extrapolated(found(40), found(80)) / (EI / R ** 3)).toBeCloseTo(4, 2);
  });
});

// MacNeal and Harder 1985, "A proposed standard set of problems to test finite element accuracy": values from memory.
describe('beams of MacNeal and Harder', () => {
  it('straight, 6 x 0.2 x 0.1: 3.0e-5, 0.1081, 0.4321, twist 0.03208 to their printed digits', () => {
    const shearModulus = 1e7 / (2 * 1.3);
    const section: Section = {
      modulus: 1e7,
      shearModulus,
      area: 0.02,
      inertia2: (0.1 ** 3 * 0.2) / 12,
      inertia3: (0.1 * 0.2 ** 3) / 12,
      // b t^3 (1/3 - 0.21 t / b (1 - t^4 / 12 b^4)) for b = 2 t: 0.2287 b t^3 (Roark).
      torsion: 0.2287 * 0.2 * 0.1 ** 3,
      shearArea2: (5 / 6) * 0.02,
      shearArea3: (5 / 6) * 0.02,
    };
    // Depth 0.2 along y, thickness 0.1 along z.
    const frame = sectionFrame(
      chain([
        [0, 0, 0],
        [6, 0, 0],
      ]),
      section,
      [0, 0, 1],
    );
    const at = (letter: string) => solved(frame, { 0: ALL }, [[1, letter, 1]])(1, letter);
    expect(at('x')).toBeCloseTo(3e-5, 10);
    expect(at('y')).toBeCloseTo(0.1081, 4);
    // Beam theory with shear: 0.43222; printed 0.4321.
    expect(Math.abs(at('z') - 0.4321)).toBeLessThan(2e-4);
    // Printed for a unit twist at the tip, in radians: 0.03208; St Venant's constant gives 0.0341, as warping is held at the root in theirs (not here).
    expect(at('a')).toBeCloseTo(6 / shearModulus / section.torsion, 10);
  });

  it('curved through 90 degrees: 0.0886 in its plane and 0.5004 out of it by thin-beam closed forms, at second order', () => {
    const nu = 0.25;
    const shearModulus = 1e7 / (2 * (1 + nu));
    const section: Section = {
      modulus: 1e7,
      shearModulus,
      area: 0.02,
      inertia3: (0.1 * 0.2 ** 3) / 12,
      inertia2: (0.1 ** 3 * 0.2) / 12,
      torsion: 0.2287 * 0.2 * 0.1 ** 3,
      shearArea2: (5 / 6) * 0.02,
      shearArea3: (5 / 6) * 0.02,
    };
    const R = 4.22;
    const frameOf = (count: number) =>
      sectionFrame(
        chain(
          Array.from({ length: count + 1 }, (_, k) => [
            R * Math.sin((Math.PI * k) / 2 / count),
            R * Math.cos((Math.PI * k) / 2 / count),
            0,
          ]),
        ),
        section,
        [0, 0, 1],
      );
    // Loads at the tip across its axis: along its radius x, and along z.
    const tip = (count: number, letter: string) => solved(frameOf(count), { 0: ALL }, [[count, letter, 1]])(count, letter);
    const inPlane = [8, 16, 32].map((count) => tip(count, 'x'));
    const across = [8, 16, 32].map((count) => tip(count, 'z'));
    expect(extrapolated(inPlane[1], inPlane[2])).toBeCloseTo(0.0886, 4);
    expect(extrapolated(across[1], across[2])).toBeCloseTo(0.5004, 3);
    for (const [a, b, c] of [inPlane, across]) {
      expect(Math.log2((b - a) / (c - b))).toBeGreaterThan(1.9);
      expect(Math.log2((b - a) / (c - b))).toBeLessThan(2.1);
    }
  });
});
