import { describe, expect, it } from 'vitest';
import { type RigidBody, roll, rollTest } from '../../../worker/engine/motion/index.ts';
import { rollingBody } from '../../../worker/engine/motion/rolling-body.ts';
import { GRAVITY, latticeBall, MASS, RADIUS, roundBall, UPRIGHT } from './samples.ts';

const FLOOR = { stiffnessNPerMm: 300, dampingS: 0, friction: 0.8 };
const way = (distanceMm: number, speedMmS: number) => ({ distanceMm, speedMmS, floor: FLOOR });
const weight = MASS * GRAVITY;
const attitude = (a: number, b: number, c: number, d: number) => Float64Array.of(a, b, c, d).map((x) => x / Math.hypot(a, b, c, d));

describe('a body in the air', () => {
  const inertia: RigidBody['inertia'] = [
    [1.2, 0.1, -0.2],
    [0.1, 1.5, 0.05],
    [-0.2, 0.05, 1.9],
  ];
  const body = { ...roundBall(0.6, [0.5, -0.3, 0.2]), inertia };
  /** Energy of motion relative to the centre of mass's fall, after so many steps over a fifth of a second. */
  const fall = (steps: number) => {
    const moving = rollingBody(body, FLOOR, { attitude: UPRIGHT, middle: [0, 0, 9e5], velocity: [300, 0, 0], spin: [30, 20, -25] });
    const start = moving.energy();
    for (let n = 0; n < steps; n++) moving.step(0.2 / steps);
    const now = moving.energy();
    return { spin: moving.spin(), energy: (now.moving + now.raised) / (start.moving + start.raised) - 1, middle: [...moving.middle] };
  };

  it('keeps its energy, and converges with the square of the step', () => {
    const [coarse, middle, fine] = [200, 400, 800].map(fall);
    // The raised energy is 3e3 times that of spin; relative to the whole it is kept to rounding of either.
    expect(Math.abs(fine.energy)).toBeLessThan(1e-9);
    const apart = (a: typeof fine, b: typeof fine) => Math.hypot(...a.spin.map((x, i) => x - b.spin[i]));
    const order = Math.log2(apart(coarse, middle) / apart(middle, fine));
    expect(order).toBeGreaterThan(1.9);
    expect(order).toBeLessThan(2.1);
  });
});

describe('a round ball', () => {
  it('rolls straight on at its speed, from any attitude', () => {
    for (const q of [UPRIGHT, attitude(1, 2, -1, 0.5), attitude(-0.3, 1, 1, 2)]) {
      const track = roll(roundBall(2 / 3), q, way(1500, 1500));
      // The middle of the ball is the body's origin, so nothing but rounding turns it.
      expect(track).toMatchObject({ kind: 'arrived', deviationMm: expect.closeTo(0, 9) });
      // It settles on its spring with its weight's own tremble of 1e-4 of the speed.
      expect(Math.abs(track.speedMmS / 1500 - 1)).toBeLessThan(1e-3);
      expect(track.balanceErrorPct).toBeLessThan(0.01);
    }
  });

  it.each([
    [0.2, 2000, 2000],
    [1, 2000, 2000],
    [-1, 2000, 2000],
    [1, 1000, 2000],
    [1, 2000, 3000],
  ])('with its centre of mass %f mm beside the middle strays over %f mm at %f mm/s by the closed form', (offset, distanceMm, speedMmS) => {
    const track = roll(roundBall(2 / 3, [0, offset, 0]), UPRIGHT, way(distanceMm, speedMmS));
    const bend = (weight * offset * RADIUS) / ((5 / 3) * MASS * RADIUS ** 2 * speedMmS ** 2);
    // Small offset and angle: second order in offset / R = 1.2 % and in the angle of 2 degrees.
    expect(Math.abs(track.deviationMm / ((bend * distanceMm ** 2) / 2) - 1)).toBeLessThan(0.01);
  });

  it('with its centre of mass in the plane of rolling stays in it, and speeds up and slows down once a turn', () => {
    const track = roll(roundBall(2 / 3, [1, 0, 0]), UPRIGHT, way(2000, 2000));
    expect(track.kind).toBe('arrived');
    expect(track.deviationMm).toBeCloseTo(0, 9);
  });

  it('with its centre of mass below the middle rocks with the period of a pendulum that rolls', () => {
    const e = 3;
    const body = roundBall(2 / 3, [0, 0, -e]);
    const tilt = 0.02;
    const sunk = weight / FLOOR.stiffnessNPerMm;
    const moving = rollingBody(body, FLOOR, {
      attitude: attitude(Math.cos(tilt / 2), 0, Math.sin(tilt / 2), 0),
      middle: [0, 0, RADIUS - sunk],
      velocity: [0, 0, 0],
      spin: [0, 0, 0],
    });
    const dt = 2e-5;
    const crossings: number[] = [];
    let before = moving.spin()[1];
    for (let n = 1; crossings.length < 5; n++) {
      moving.step(dt);
      const now = moving.spin()[1];
      if (now * before < 0 && n > 10) crossings.push(n * dt);
      before = now;
    }
    const I = (2 / 3) * MASS * RADIUS ** 2;
    const period = 2 * Math.PI * Math.sqrt((I + MASS * (RADIUS - e) ** 2) / (weight * e));
    // Amplitude: 1 + tilt^2 / 16; the floor gives by 0.01 mm of 81; crossings to a step of 2e-5 s of 2.3 s.
    expect(Math.abs((crossings[4] - crossings[0]) / 2 / period - 1)).toBeLessThan(2e-3);
  });

  it.each([
    ['solid', 2 / 5, 5 / 7],
    ['shell', 2 / 3, 3 / 5],
  ])('sent without spin slides until it rolls at the textbook share of its speed: %s', (_, share, rolling) => {
    const body = roundBall(share);
    const floor = { ...FLOOR, friction: 0.3 };
    const moving = rollingBody(body, floor, {
      attitude: UPRIGHT,
      middle: [0, 0, RADIUS - weight / FLOOR.stiffnessNPerMm],
      velocity: [2000, 0, 0],
      spin: [0, 0, 0],
    });
    const start = moving.energy();
    const dt = 2e-5;
    for (let n = 0; n < 0.5 / dt; n++) moving.step(dt);
    const from = moving.middle[0];
    for (let n = 0; n < 0.1 / dt; n++) moving.step(dt);
    // Momentum about a point of the floor is kept: v (1 + share) = v0. The grip's spring rings on by 1e-3 of it.
    expect(Math.abs((moving.middle[0] - from) / 0.1 / (2000 * rolling) - 1)).toBeLessThan(2e-3);
    // What is lost is heat: v0^2 / 2 times share / (1 + share) of the mass.
    const lost = (MASS * 2000 ** 2 * (1 - rolling)) / 2;
    expect(Math.abs(moving.heat() / lost - 1)).toBeLessThan(0.01);
    const now = moving.energy();
    const whole = start.moving + start.raised + start.stored;
    expect(Math.abs(now.moving + now.raised + now.stored + moving.heat() - whole) / start.moving).toBeLessThan(1e-3);
  });
});

describe('a lattice ball', () => {
  const ball = latticeBall(2, 1);
  const TEST = { distanceMm: 1000, speedMmS: 1500, starts: 6, seed: 3, stiffnessNPerMm: 20, lossFactor: 0.1, friction: 0.8 };
  const rolled = (body: RigidBody, change: Partial<typeof TEST> | { stiffnessNPerMm: null } = {}) => {
    const found = rollTest(body, { ...TEST, ...change });
    if (found.kind === 'refused') throw new Error(found.message);
    return found;
  };

  it('accounts for its energy to half a percent, on soft and on nearly rigid corners', () => {
    for (const stiffnessNPerMm of [10, 100, null]) {
      const found = rolled(ball, { stiffnessNPerMm, starts: 3 } as Partial<typeof TEST>);
      expect(found.balanceErrorPct).toBeLessThan(0.5);
      expect(found.byStart).toHaveLength(3);
    }
  });

  it('strays less the softer its corners are', () => {
    const [soft, hard] = [10, 400].map((stiffnessNPerMm) => rolled(ball, { stiffnessNPerMm, starts: 12 }).deviationMm!.mean);
    expect(soft).toBeLessThan(hard);
  });

  it('gives the same for the same seed, and start k whatever their number', () => {
    const [few, many] = [2, 4].map((starts) => rolled(ball, { starts }).byStart);
    expect(many.slice(0, 2)).toEqual(few);
    expect(rolled(ball, { seed: 4, starts: 2 }).byStart).not.toEqual(few);
  });

  it('strays to the other side when it and its start are mirrored', () => {
    const flip = (x: number, i: number) => (i % 3 === 1 ? -x : x);
    const mirrored: RigidBody = {
      ...ball,
      centreMm: [0.4, -0.7, 0.2],
      xyz: ball.xyz.map(flip),
      inertia: ball.inertia.map((row, i) => row.map((x, j) => ((i === 1) === (j === 1) ? x : -x))) as unknown as RigidBody['inertia'],
    };
    const plain = { ...ball, centreMm: [0.4, 0.7, 0.2] as const };
    const start = attitude(1, 0.7, -0.4, 0.2);
    const other = Float64Array.of(start[0], -start[1], start[2], -start[3]);
    const [a, b] = [roll(plain, start, way(300, 1500)), roll(mirrored, other, way(300, 1500))];
    // Rounding grows at every corner, some thirty of them.
    expect(b.deviationMm).toBeCloseTo(-a.deviationMm, 4);
    expect(Math.abs(a.deviationMm)).toBeGreaterThan(0.1);
  });

  it('with its centre of mass along the axis of roll strays as a round ball does, apart from its corners', () => {
    const fine = { ...latticeBall(3, 3), centreMm: [0, 4, 0] as const };
    // Attitudes about the axis of roll leave the offset on it.
    const angles = Array.from({ length: 8 }, (_, k) => (k * Math.PI) / 4 / 2);
    const floor = { stiffnessNPerMm: 10, dampingS: 0, friction: 0.8 };
    const ways = angles.map(
      (a) => roll(fine, Float64Array.of(Math.cos(a), 0, Math.sin(a), 0), { distanceMm: 1000, speedMmS: 1500, floor }).deviationMm,
    );
    const alone = rollTest(fine, { ...TEST, starts: 1 }) as { offsetAloneMm: number };
    const mean = ways.reduce((sum, x) => sum + x, 0) / ways.length;
    // Corners throw single ways about by some 10 mm of 70; the mean of eight by a third of that, and it slows by a few percent.
    expect(Math.abs(mean / alone.offsetAloneMm - 1)).toBeLessThan(0.15);
  });

  it('with few corners stops before the distance, and says so', () => {
    const coarse = rolled(latticeBall(1, 0), { distanceMm: 3000, speedMmS: 600, stiffnessNPerMm: 100, lossFactor: 0.6, starts: 3 });
    expect(coarse).toMatchObject({ arrived: 0, deviationMm: null, deviationDeg: null });
    expect(coarse.warnings).toMatchObject([{ code: 'roll-stopped' }]);
    for (const { kind, distanceMm } of coarse.byStart) {
      expect(kind).toBe('stopped');
      expect(distanceMm).toBeGreaterThan(0);
      expect(distanceMm).toBeLessThan(3000);
    }
  });

  it('is refused where a test is out of range or the floor too soft', () => {
    const refused = (change: object) => rollTest(ball, { ...TEST, ...change });
    expect(refused({ speedMmS: 0 })).toMatchObject({
      kind: 'refused',
      code: 'roll-out-of-range',
      message: 'speedMmS is 0; allowed: 100 to 20000',
    });
    expect(refused({ distanceMm: Number.NaN })).toMatchObject({ code: 'roll-out-of-range' });
    expect(refused({ starts: 1000, stiffnessNPerMm: 1e6 })).toMatchObject({ code: 'roll-too-long' });
    expect(refused({ stiffnessNPerMm: 0.1 })).toMatchObject({ code: 'roll-too-soft' });
  });

  it('stops at once when cancelled', () => {
    let asked = 0;
    const found = rollTest(ball, TEST, { isCancelled: () => ++asked > 3 });
    expect(found).toMatchObject({ kind: 'rolled', byStart: [] });
  });
});
