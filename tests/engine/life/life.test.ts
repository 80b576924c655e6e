import { describe, expect, it } from 'vitest';
import { bounceLife, cyclesAt, FATIGUE_SCATTER, failedShare, strainAt } from '../../../worker/engine/life/index.ts';
import { random } from '../solid/samples.ts';

const SOFT = { coefficientPct: 60, exponent: -0.12 };
const bounce = (peakStrainPct: number, role = 'layer-0', strut: number | null = 3) => ({ peakStrainPct, role, strut });

function lifeOf(...given: Parameters<typeof bounceLife>) {
  const found = bounceLife(...given);
  if (found.kind !== 'life') throw new Error(found.message);
  return found;
}

describe('strain-life curve', () => {
  it('and its inverse give back what went in', () => {
    const next = random(1);
    for (let k = 0; k < 200; k++) {
      const curve = { coefficientPct: 10 ** (4 * next()), exponent: -0.05 - 1.5 * next() };
      const amplitude = 10 ** (3 * next() - 2);
      const { cycles } = cyclesAt(amplitude, curve);
      // The exponent stretches rounding of the logarithm: 1 / 0.05 times 1e-16 times a logarithm of some 100.
      expect(strainAt(cycles, curve) / amplitude).toBeCloseTo(1, 11);
    }
  });

  it('falls: more strain, fewer cycles; a straight line in logarithms', () => {
    const lives = [1, 2, 4, 8, 16].map((amplitude) => cyclesAt(amplitude, SOFT).cycles);
    for (let k = 1; k < lives.length; k++) expect(lives[k - 1] / lives[k]).toBeCloseTo(2 ** (1 / 0.12), 6);
  });

  it('tells where a life lies beyond what curves are measured for, at both ends', () => {
    expect(cyclesAt(60, SOFT)).toMatchObject({ cycles: 1, place: 'within' });
    expect(cyclesAt(60.1, SOFT).place).toBe('below-one-cycle');
    const atRange = strainAt(1e7, SOFT);
    expect(cyclesAt(1.001 * atRange, SOFT).place).toBe('within');
    expect(cyclesAt(0.999 * atRange, SOFT).place).toBe('beyond-range');
  });
});

describe('scatter of lives', () => {
  it('holds 95 of 100 lives within the band, whether the record gives its factor or not', () => {
    for (const curve of [SOFT, { ...SOFT, spreadFactor: 7 }]) {
      const life = cyclesAt(5, curve);
      expect(failedShare(life.cycles, life)).toBeCloseTo(0.5, 12);
      expect(failedShare(life.to, life) - failedShare(life.from, life)).toBeCloseTo(0.95, 10);
      expect(life.to / life.cycles).toBeCloseTo(life.cycles / life.from, 9);
    }
    expect(cyclesAt(5, { ...SOFT, spreadFactor: 7 }).to / cyclesAt(5, SOFT).cycles).toBeCloseTo(7, 9);
    expect(cyclesAt(5, SOFT).deviation).toBe(FATIGUE_SCATTER.deviation);
  });

  it('is none when the record says so', () => {
    const life = cyclesAt(5, { ...SOFT, spreadFactor: 1 });
    expect([life.from, life.to]).toEqual([life.cycles, life.cycles]);
    expect(failedShare(0.99 * life.cycles, life)).toBe(0);
    expect(failedShare(1.01 * life.cycles, life)).toBe(1);
  });

  it('grows with every further bounce', () => {
    const life = cyclesAt(5, SOFT);
    const shares = [0.01, 0.1, 0.5, 1, 2, 10, 100].map((part) => failedShare(part * life.cycles, life));
    expect([...shares].sort((a, b) => a - b)).toEqual(shares);
  });
});

describe('life of a part that bounces', () => {
  it('takes half the peak as the amplitude, and the worst of the bounces with its role', () => {
    const life = lifeOf([bounce(8), bounce(24, 'link', 77), bounce(10)], SOFT);
    expect(life).toMatchObject({ strainAmplitudePct: 12, criticalRole: 'link', criticalStrut: 77, warnings: [] });
    // (12 / 60) ^ (1 / -0.12) = 5 ^ (25 / 3).
    expect(life.cycles / 5 ** (25 / 3)).toBeCloseTo(1, 12);
  });

  it('warns beyond the range of the curve, at both ends, and never promises', () => {
    expect(lifeOf([bounce(130)], SOFT).warnings).toMatchObject([{ code: 'life-below-one-bounce' }]);
    expect(lifeOf([bounce(1)], SOFT).warnings).toMatchObject([{ code: 'life-beyond-curve' }]);
    expect(lifeOf([bounce(1)], SOFT).assumptions.join(' ')).toMatch(/no guarantee/);
  });

  it('is not known without a curve, or without strain', () => {
    expect(bounceLife([bounce(8)], null)).toMatchObject({ kind: 'not-known', code: 'no-strain-life' });
    expect(bounceLife([], SOFT)).toMatchObject({ kind: 'not-known', code: 'no-strain' });
    expect(bounceLife([bounce(0)], SOFT)).toMatchObject({ kind: 'not-known', code: 'no-strain' });
  });
});
