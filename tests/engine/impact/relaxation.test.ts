import { describe, expect, it } from 'vitest';
import { type Relaxation, relaxationOf, response } from '../../../worker/engine/impact/index.ts';

const material = (lossFactor: number, more = {}) => ({ modulusMPa: 60, referenceHz: 30, lossFactor, ...more });

function modelOf(given: Parameters<typeof relaxationOf>[0]): Relaxation & { deviationPct: number } {
  const found = relaxationOf(given);
  if (found.kind === 'refused') throw new Error(found.message);
  return { ...found.relaxation, deviationPct: found.deviationPct };
}

/** E(t) / E0 of a model, and the response to a sine found from it by Fourier's integrals: E' = w int E(t) sin(wt), E'' = w int E(t) cos(wt). */
function fourier({ longTermMPa, branches }: Relaxation, hz: number) {
  const w = 2 * Math.PI * hz;
  let [storage, loss] = [longTermMPa, 0];
  for (const { ratio, timeS } of branches) {
    // The decaying part only (the constant part gives longTerm and 0); midpoint rule over 40 relaxation times.
    const step = timeS / 500 / Math.max(1, w * timeS);
    for (let t = step / 2; t < 40 * timeS; t += step) {
      const decaying = longTermMPa * ratio * Math.exp(-t / timeS);
      storage += w * decaying * Math.sin(w * t) * step;
      loss += w * decaying * Math.cos(w * t) * step;
    }
  }
  return { storageMPa: storage, tanDelta: loss / storage };
}

describe('a relaxation model from a loss factor', () => {
  it.each([0.03, 0.12, 0.2, 0.4])('%f: storage modulus and tan delta at the reference are the given ones', (lossFactor) => {
    const { storageMPa, tanDelta } = response(modelOf(material(lossFactor)), 30);
    // Closed form, so rounding only.
    expect(storageMPa).toBeCloseTo(60, 9);
    expect(tanDelta).toBeCloseTo(lossFactor, 12);
  });

  it('has tan delta within 10 % of the loss factor from 3 to 300 Hz, up to 0.38', () => {
    for (const lossFactor of [0.01, 0.05, 0.12, 0.2, 0.3, 0.38]) {
      const model = modelOf(material(lossFactor));
      expect(model.deviationPct).toBeLessThan(10);
      for (let hz = 3; hz <= 300; hz *= 1.07) {
        const off = Math.abs(response(model, hz).tanDelta / lossFactor - 1);
        // The deviation is sampled at other frequencies than these: 0.1 % between them.
        expect(100 * off).toBeLessThan(model.deviationPct + 0.1);
      }
    }
  });

  it('says how far it strays where 10 % cannot be held, and refuses what no branches give', () => {
    expect(modelOf(material(0.55)).deviationPct).toBeGreaterThan(10);
    expect(relaxationOf(material(2))).toMatchObject({ kind: 'refused', code: 'loss-factor-too-high' });
  });

  it('has at least one branch a decade from 1e-4 to 0.3 s, and a wider range for a reference outside the band', () => {
    const { branches } = modelOf(material(0.12));
    expect(branches[0].timeS).toBeCloseTo(1e-4, 12);
    expect(branches.at(-1)!.timeS).toBeCloseTo(0.3, 12);
    for (let b = 1; b < branches.length; b++) expect(branches[b].timeS / branches[b - 1].timeS).toBeLessThanOrEqual(10);
    for (const referenceHz of [0.1, 1, 5000]) {
      const model = modelOf(material(0.12, { referenceHz }));
      expect(response(model, referenceHz).storageMPa).toBeCloseTo(60, 9);
      expect(model.deviationPct).toBeLessThan(10);
    }
  });

  it('orders the moduli, and is elastic without loss', () => {
    const { longTermMPa, instantaneousMPa } = modelOf(material(0.12));
    expect(longTermMPa).toBeLessThan(60);
    expect(instantaneousMPa).toBeGreaterThan(60);
    expect(modelOf(material(0))).toMatchObject({ longTermMPa: 60, instantaneousMPa: 60, branches: [], deviationPct: 0 });
  });
});

describe('a relaxation model from measured terms', () => {
  const relaxation = [
    { ratio: 0.6, timeS: 0.002 },
    { ratio: 0.4, timeS: 0.05 },
  ];

  it('decays from the instantaneous modulus by the given ratios', () => {
    const { longTermMPa, instantaneousMPa, branches } = modelOf(material(0.12, { relaxation }));
    expect(longTermMPa / instantaneousMPa).toBeCloseTo(0.5, 12);
    expect(branches).toEqual(relaxation);
  });

  it('is the same with branches in MPa', () => {
    const { longTermMPa } = modelOf(material(0.12, { relaxation }));
    const inMPa = relaxation.map(({ ratio, timeS }) => ({ modulusMPa: ratio * longTermMPa, timeS }));
    expect(modelOf({ modulusMPa: 60, referenceHz: 30, relaxation: inMPa }).longTermMPa).toBeCloseTo(longTermMPa, 10);
  });

  it('answers a sine as the Fourier integrals of its relaxation function do', () => {
    const model = modelOf(material(0.12, { relaxation }));
    for (const hz of [1, 30, 300]) {
      const expected = fourier(model, hz);
      // Midpoint rule with 500 points a radian or relaxation time: 1e-6.
      expect(response(model, hz).storageMPa / expected.storageMPa).toBeCloseTo(1, 5);
      expect(response(model, hz).tanDelta / expected.tanDelta).toBeCloseTo(1, 5);
    }
    expect(response(model, 30).storageMPa).toBeCloseTo(60, 9);
  });

  it('refuses branches that leave no long-term modulus', () => {
    expect(relaxationOf(material(0.12, { relaxation: [{ modulusMPa: 61, timeS: 1 }] }))).toMatchObject({ code: 'relaxation-too-strong' });
  });
});
