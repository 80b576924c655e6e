import { describe, expect, it } from 'vitest';
import { judgeCandidates, nextPrint, UNKNOWNS, USUAL_BELIEFS, type VersionResponse } from '../../../worker/engine/calibration/index.ts';

const response = (massG: number, restitution: number, growthSlope = 1.2): VersionResponse => ({
  strutDiameterMm: 3.5,
  quantities: {
    massG: { value: massG, slopes: [growthSlope, 0.6, 1, 0, 0, 0], growthCurvature: 0, lossCurvature: 0 },
    restitution: { value: restitution, slopes: [0, 0, 0, 0, -0.16, 0], growthCurvature: 0, lossCurvature: 0 },
  },
});
const known = (share: number) => ({
  x: new Float64Array(UNKNOWNS.length),
  covariance: UNKNOWNS.map((name, j) => UNKNOWNS.map((_, k) => (j === k ? (share * USUAL_BELIEFS[name].deviation) ** 2 : 0))),
});
const AIMS = [
  { quantity: 'massG', min: 307, target: 310, max: 313 },
  { quantity: 'restitution', min: 0.7 },
];
const NOISE = { massG: { scatterPct: 1, biasPct: 0.1 }, restitution: { scatterPct: 1, biasPct: 0.5 } };
const CANDIDATES = [
  { id: 'light', response: response(280, 0.83) },
  { id: 'right', response: response(310, 0.83) },
  { id: 'dull', response: response(310, 0.6) },
];

describe('the next print', () => {
  it('is the version that meets all targets where that is likely', () => {
    const judged = judgeCandidates(CANDIDATES, AIMS, known(0.05), NOISE);
    const advice = nextPrint(judged);
    expect(advice).toMatchObject({ advised: 'right', why: 'closest' });
    expect(judged.map(({ meetsAll }) => meetsAll > 0.5)).toEqual([false, true, false]);
    expect(advice.reasons.join(' ')).toMatch(/right comes closest/);
  });

  it('has the chance that the normal distribution gives of one band', () => {
    const [judged] = judgeCandidates([CANDIDATES[1]], [AIMS[0]], known(0.05), NOISE);
    // deviation of ln mass: (1.2 0.15/3.5, 0.6 0.15/3.5, 0.04) 0.05 = 0.00349; half the band is 0.00968: 2.77 deviations, 0.9944 of the normal distribution
    expect(judged.meetsAll).toBeGreaterThan(0.985);
    expect(judged.meetsAll).toBeLessThan(1);
  });

  it('is what tells most where nothing is likely yet, and says so', () => {
    const others = [...CANDIDATES.filter(({ id }) => id !== 'right'), { id: 'telling', response: response(260, 0.8, 4) }];
    const advice = nextPrint(judgeCandidates(others, AIMS, known(1), NOISE));
    expect(advice).toMatchObject({ advised: 'telling', why: 'informative' });
    expect(advice.reasons.join(' ')).toMatch(/learn most/);
  });

  it('is worth the bits of one normal measurement', () => {
    const alone = { massG: NOISE.massG };
    const [judged] = judgeCandidates([CANDIDATES[0]], AIMS, known(1), alone);
    // one measurement lowers the volume by sqrt(1 + felt / noise), felt = sum of squares of slope times deviation
    const felt = (1.2 * 0.15) ** 2 / 3.5 ** 2 + (0.6 * 0.15) ** 2 / 3.5 ** 2 + 0.04 ** 2;
    expect(judged.bits).toBeCloseTo(Math.log2(1 + felt / (1.01 * 1e-4)) / 2, 6);
  });

  it('is nothing without candidates', () => {
    expect(nextPrint([])).toMatchObject({ advised: null, closest: null });
  });
});
