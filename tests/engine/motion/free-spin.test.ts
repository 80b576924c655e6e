import { describe, expect, it } from 'vitest';
import { completeK, jacobi } from '../../../worker/engine/motion/elliptic.ts';
import { freeSpin, unbalance, worstWobbleDeg } from '../../../worker/engine/motion/index.ts';
import { random, rotation } from '../solid/samples.ts';

type Triple = [number, number, number];
const DEGREES = 180 / Math.PI;

const diagonal = ([a, b, c]: Triple): [Triple, Triple, Triple] => [
  [a, 0, 0],
  [0, b, 0],
  [0, 0, c],
];
const bodyOf = (moments: Triple, centreMm: Triple = [0, 0, 0]) => ({ inertia: diagonal(moments), centreMm });

/** Euler's equations I w' = (I w) x w by the classical Runge-Kutta rule of fourth order, in principal axes. */
function runEuler([I1, I2, I3]: Triple, start: Triple, dt: number, steps: number, each: (w: Triple, n: number) => void) {
  const rate = ([x, y, z]: Triple): Triple => [((I2 - I3) / I1) * y * z, ((I3 - I1) / I2) * z * x, ((I1 - I2) / I3) * x * y];
  const plus = (w: Triple, k: Triple, h: number): Triple => [w[0] + h * k[0], w[1] + h * k[1], w[2] + h * k[2]];
  let w = start;
  for (let n = 0; n <= steps; n++) {
    each(w, n);
    const a = rate(w);
    const b = rate(plus(w, a, dt / 2));
    const c = rate(plus(w, b, dt / 2));
    const d = rate(plus(w, c, dt));
    w = [0, 1, 2].map((i) => w[i] + (dt / 6) * (a[i] + 2 * b[i] + 2 * c[i] + d[i])) as Triple;
  }
}

const angle = (a: readonly number[], b: readonly number[]) => {
  const cross = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return Math.atan2(Math.hypot(...cross), a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
};

describe("Jacobi's elliptic functions", () => {
  it('have the printed quarter period at m = 1/2 (Abramowitz and Stegun, table 17.1, from memory), and pi/2 at m = 0', () => {
    expect(completeK(0.5)).toBeCloseTo(1.854074677301372, 13);
    expect(completeK(1)).toBeCloseTo(Math.PI / 2, 14);
    // Near m = 1: ln(4 / k') to k'^2 ln(4 / k') / 4.
    expect(completeK(1e-14)).toBeCloseTo(Math.log(4e7), 12);
  });

  it('solve their differential equations, and turn at quarter periods', () => {
    const next = random(3);
    for (let k = 0; k < 200; k++) {
      const [m, u, h] = [next(), 8 * next() - 4, 1e-5];
      const [at, before, after] = [u, u - h, u + h].map((x) => jacobi(x, m, 1 - m));
      // Central differences: h^2 / 6 and rounding over h.
      expect((after.sn - before.sn) / (2 * h)).toBeCloseTo(at.cn * at.dn, 8);
      expect((after.cn - before.cn) / (2 * h)).toBeCloseTo(-at.sn * at.dn, 8);
      expect((after.dn - before.dn) / (2 * h)).toBeCloseTo(-m * at.sn * at.cn, 8);
      expect(jacobi(completeK(1 - m), m, 1 - m).sn).toBeCloseTo(1, 12);
    }
    expect(jacobi(1.3, 0, 1)).toEqual({ sn: expect.closeTo(Math.sin(1.3), 14), cn: expect.closeTo(Math.cos(1.3), 14), dn: 1 });
    expect(jacobi(1.3, 1, 0).sn).toBeCloseTo(Math.tanh(1.3), 14);
  });
});

describe('free spin', () => {
  it('does not wobble where the inertia is that of a sphere, or about a principal axis', () => {
    for (const [moments, axis] of [
      [
        [5, 5, 5],
        [0.3, 0.4, 0.5],
      ],
      [
        [3, 4, 6],
        [0, 0, 1],
      ],
      [
        [3, 4, 6],
        [0, 1, 0],
      ],
      [
        [3, 4, 6],
        [-1, 0, 0],
      ],
    ] as [Triple, Triple][])
      expect(freeSpin(bodyOf(moments), axis, 20, 80)).toMatchObject({ wobbleDeg: 0, wanderDeg: 0, wobbleHz: null, circles: 'none' });
  });

  it.each([
    [[4, 4, 5], 'greatest'],
    [[4, 5, 5], 'least'],
  ] as [Triple, string][])('of a symmetric top has the closed form: %j', (moments, circles) => {
    const axis: Triple = circles === 'greatest' ? [Math.sin(0.3), 0, Math.cos(0.3)] : [Math.cos(0.3), Math.sin(0.3), 0];
    const found = freeSpin(bodyOf(moments), axis, 30, 80);
    const [own, side] = circles === 'greatest' ? [5, 4] : [4, 5];
    expect(found.circles).toBe(circles);
    // tan of the momentum's angle to the axis is (side / own) tan 0.3; it stays, and the turning axis goes round at (own - side) / side w cos 0.3.
    expect(found.wobbleDeg).toBeCloseTo(DEGREES * Math.abs(Math.atan((side / own) * Math.tan(0.3)) - 0.3), 10);
    expect(found.wobbleHz).toBeCloseTo((Math.abs(own - side) / side) * ((30 * Math.cos(0.3)) / (2 * Math.PI)), 10);
    // Opposite on the circle.
    expect(found.wanderDeg).toBeCloseTo(DEGREES * 0.6, 8);
    expect(found.axisWobbleMm).toBeCloseTo(80 * Math.sin(found.wobbleDeg / DEGREES), 12);
  });

  it('agrees with Euler equations integrated step by step, which keep energy and momentum', () => {
    const next = random(6);
    for (let k = 0; k < 12; k++) {
      const moments = [2 + next(), 3.2 + next(), 4.5 + 0.5 * next()] as Triple;
      const start = [next() - 0.5, next() - 0.5, next() - 0.5].map((x) => 20 * x) as Triple;
      const spin = Math.hypot(...start);
      const found = freeSpin(bodyOf(moments), start, spin, 80);
      const period = 1 / found.wobbleHz!;
      const steps = 4000;
      const energy = (w: Triple) => w.reduce((sum, x, i) => sum + moments[i] * x * x, 0);
      const size = (w: Triple) => Math.hypot(...w.map((x, i) => moments[i] * x));
      let [wobble, wander] = [0, 0];
      let last = start;
      runEuler(moments, start, period / steps, steps, (w) => {
        wobble = Math.max(
          wobble,
          angle(
            w,
            w.map((x, i) => moments[i] * x),
          ),
        );
        wander = Math.max(wander, angle(w, start));
        last = w;
      });
      // Fourth order with 4000 steps a period: 1e-10 or so; angles are looked at in steps, off by (2 pi / 400)^2 / 8 of their swing.
      expect(energy(last) / energy(start)).toBeCloseTo(1, 9);
      expect(size(last) / size(start)).toBeCloseTo(1, 9);
      expect(angle(last, start)).toBeLessThan(1e-7);
      expect(found.wobbleDeg / DEGREES).toBeCloseTo(wobble, 5);
      expect(found.wanderDeg / DEGREES).toBeCloseTo(wander, 3);
    }
  });

  it('about the middle axis flips over, after half the period by the elliptic integral', () => {
    const moments: Triple = [2, 3, 4];
    const start: Triple = [1e-3, 10, 1e-3];
    const found = freeSpin(bodyOf(moments), start, Math.hypot(...start), 80);
    expect(found.wanderDeg).toBeGreaterThan(179.9);
    const half = 0.5 / found.wobbleHz!;
    const crossings: number[] = [];
    let before = start[1];
    const dt = half / 20_000;
    runEuler(moments, start, dt, 50_000, (w, n) => {
      if (w[1] * before < 0) crossings.push(dt * (n - w[1] / (w[1] - before)));
      before = w[1];
    });
    // Between two passages of zero lies half a period.
    expect((crossings[1] - crossings[0]) / half).toBeCloseTo(1, 6);
  });

  it('never wobbles more than the worst axis can, which does', () => {
    const next = random(2);
    for (let k = 0; k < 100; k++) {
      const moments = [2 + next(), 3.2 + next(), 4.5 + next()] as Triple;
      const axis: Triple = [next() - 0.5, next() - 0.5, next() - 0.5];
      const worst = worstWobbleDeg(bodyOf(moments));
      expect(freeSpin(bodyOf(moments), axis, 20, 80).wobbleDeg).toBeLessThan(worst * (1 + 1e-12));
      // I1 / I3 = (w3 / w1)^2: the axis of w leans to the greatest moment's by the root of their ratio.
      const attained = freeSpin(bodyOf(moments), [Math.sqrt(moments[2]), 0, Math.sqrt(moments[0])], 20, 80);
      expect(attained.wobbleDeg).toBeCloseTo(worst, 9);
    }
    expect(worstWobbleDeg(bodyOf([5, 5, 5]))).toBe(0);
  });

  it('is the same however the part lies in its axes', () => {
    const next = random(8);
    const g = rotation([0.6, 0, 0.8], 1.1);
    const row = (i: number) => [g[3 * i], g[3 * i + 1], g[3 * i + 2]];
    const turned = (v: readonly number[]) => [0, 1, 2].map((i) => row(i)[0] * v[0] + row(i)[1] * v[1] + row(i)[2] * v[2]) as Triple;
    const moments: Triple = [2, 3, 4.4];
    const inertia = [0, 1, 2].map((i) => [0, 1, 2].map((j) => row(i).reduce((sum, x, k) => sum + x * moments[k] * row(j)[k], 0))) as [
      Triple,
      Triple,
      Triple,
    ];
    for (let k = 0; k < 10; k++) {
      const axis: Triple = [next() - 0.5, next() - 0.5, next() - 0.5];
      const centreMm: Triple = [0.3, -0.2, 0.1];
      const [plain, other] = [
        freeSpin(bodyOf(moments, centreMm), axis, 15, 80),
        freeSpin({ inertia, centreMm: turned(centreMm) }, turned(axis), 15, 80),
      ];
      expect(other).toEqual({
        wobbleDeg: expect.closeTo(plain.wobbleDeg, 9),
        wanderDeg: expect.closeTo(plain.wanderDeg, 1),
        wobbleHz: expect.closeTo(plain.wobbleHz!, 9),
        circles: plain.circles,
        axisWobbleMm: expect.closeTo(plain.axisWobbleMm, 9),
        centreWobbleMm: expect.closeTo(plain.centreWobbleMm, 12),
      });
    }
  });

  it('swings the middle round the centre of mass by what lies beside the axis', () => {
    const found = freeSpin(bodyOf([5, 5, 5], [0.3, 0.4, 1.2]), [0, 0, 7], 20, 80);
    expect(found.centreWobbleMm).toBeCloseTo(0.5, 12);
    expect(freeSpin(bodyOf([5, 5, 5], [0, 0, 1.2]), [0, 0, 7], 20, 80).centreWobbleMm).toBeLessThan(1e-7);
  });
});

describe('unbalance as rotors tell it', () => {
  it('has the permissible offsets of ISO 21940-11 for grades G 6.3 and G 40 [computed from the formula, from memory]', () => {
    // e = G / omega, micrometres.
    for (const [grade, rpm, micrometres] of [
      [6.3, 100, 602],
      [40, 100, 3820],
      [6.3, 300, 201],
      [40, 300, 1273],
      [6.3, 600, 100],
      [40, 600, 637],
      [6.3, 1000, 60],
      [40, 1000, 382],
    ]) {
      const { speedMmS } = unbalance(430, micrometres / 1000, (rpm * Math.PI) / 30, 110);
      // Printed to whole micrometres.
      expect(Math.abs(speedMmS / grade - 1)).toBeLessThan(0.6 / micrometres);
    }
    expect(unbalance(430, 1, 0, 110)).toEqual({ unbalanceGMm: 430, speedMmS: 0, relative: 1 / 110 });
  });
});
