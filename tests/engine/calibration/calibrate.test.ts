import { beforeAll, describe, expect, it } from 'vitest';
import {
  calibrate,
  checkResiduals,
  coordinatesOf,
  type Fit,
  identify,
  normalityOf,
  predict,
  runsOf,
  UNKNOWNS,
  USUAL_BELIEFS,
  type Values,
  type VersionResponse,
  valuesOf,
} from '../../../worker/engine/calibration/index.ts';
import { deviates } from '../../../worker/engine/probability/index.ts';
import { halfWidth, measured, NOISE, responseOf, smallBall } from './samples.ts';

let responses: VersionResponse[];
beforeAll(() => {
  responses = [smallBall(4, 3), smallBall(5, 3.2), smallBall(3.4, 4)].map(responseOf);
}, 120_000);

/** True values as they are believed likely. */
function drawn(seed: number): Values {
  const { normal } = deviates(seed, 3);
  const beliefs = UNKNOWNS.map((name) => USUAL_BELIEFS[name]);
  const centre = coordinatesOf(Object.fromEntries(UNKNOWNS.map((name) => [name, USUAL_BELIEFS[name].value])) as unknown as Values);
  return valuesOf(centre.map((value, k) => value + beliefs[k].deviation * normal()));
}
const fitOf = (observations: Parameters<typeof calibrate>[0]['observations']) =>
  calibrate({ responses, observations, beliefs: USUAL_BELIEFS });
const error = (fit: Fit, truth: Values, k: number) => fit.x[k] - coordinatesOf(truth)[k];
const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, each) => sum + each * each, 0) / values.length);

describe('a calibration of invented measurements', () => {
  it('recovers what was put in over 200 seeded trials, and its intervals hold it as often as they say', () => {
    const trials = Array.from({ length: 200 }, (_, seed) => {
      const truth = drawn(seed);
      return { truth, fit: fitOf(measured(responses, truth, { prints: 4, seed })) };
    });
    const report = UNKNOWNS.map((unknown, k) => ({
      unknown,
      believed: USUAL_BELIEFS[unknown].deviation,
      error: rms(trials.map(({ truth, fit }) => error(fit, truth, k))),
      mean: trials.reduce((sum, { truth, fit }) => sum + error(fit, truth, k), 0) / 200,
      held: trials.filter(({ truth, fit }) => Math.abs(error(fit, truth, k)) <= halfWidth(fit, k)).length,
    }));
    process.stdout.write(
      report.map((r) => `${r.unknown}: error ${r.error.toFixed(4)} of ${r.believed} believed, held ${r.held} of 200\n`).join(''),
    );
    for (const { held, mean, error: off, believed } of report) {
      // 190 of 200 is expected of an interval of 95 %; three binomial deviations, sqrt(200 0.95 0.05) = 3.1, lie below and, as 200 is the most, above
      expect(held).toBeGreaterThanOrEqual(181);
      // no bias: the mean error within four of its own deviations
      expect(Math.abs(mean)).toBeLessThan((4 * off) / Math.sqrt(200));
      expect(off).toBeLessThan(1.1 * believed);
    }
    expect(trials.every(({ fit }) => fit.converged)).toBe(true);
  }, 60_000);

  it('meets what was put in where nothing scatters and nothing is off', () => {
    const truth = drawn(5);
    const exact = measured(responses, truth, { prints: 1, seed: 1 }).map((each) => ({ ...each, biasPct: 0, scatterPct: 1e-3 }));
    const x = coordinatesOf(truth);
    const observations = exact.map((each) => ({
      ...each,
      value: predict(responses[each.version], each.quantity, { x, covariance: UNKNOWNS.map(() => UNKNOWNS.map(() => 0)) }).value,
    }));
    const fit = fitOf(observations);
    // the beliefs pull by the square of scatter over deviation, at the most weakly felt combination some 1e-4 of a deviation
    for (const k of UNKNOWNS.keys()) expect(Math.abs(error(fit, truth, k))).toBeLessThan(2e-3);
  });

  it('says what mass and diameter alone cannot tell, and stays at what was believed there', () => {
    const truth = drawn(9);
    const fit = fitOf(measured(responses, truth, { prints: 4, seed: 9, quantities: ['massG', 'outsideDiameterMm'] }));
    const { unknowns, sentences } = identify(fit);
    const told = Object.fromEntries(unknowns.map((each) => [each.unknown, each.told]));
    expect(told).toMatchObject({ modulusFactor: 'not-told', lossFactorFactor: 'not-told', jointFactor: 'not-told' });
    expect(told.growthInLayerMm).not.toBe('not-told');
    expect(fit.values.modulusFactor).toBeCloseTo(1, 6);
    expect(sentences.join(' ')).toMatch(/next to nothing of the modulus/);
  });

  it('knows modulus and joints better together than alone from stiffness', () => {
    const fit = fitOf(measured(responses, drawn(2), { prints: 6, seed: 2 }));
    const { together } = identify(fit);
    expect(together.some(({ unknowns, correlation }) => unknowns.join() === 'modulusFactor,jointFactor' && correlation < 0)).toBe(true);
  });

  it('errs less than plain least squares where one reading in twelve slipped', () => {
    const off = { robust: [] as number[], plain: [] as number[] };
    const loss = UNKNOWNS.indexOf('lossFactorFactor');
    for (let seed = 0; seed < 60; seed++) {
      const truth = drawn(seed);
      const observations = measured(responses, truth, { prints: 4, seed, outlierShare: 1 / 12 });
      off.robust.push(error(fitOf(observations), truth, loss));
      // scatter said a hundred times larger, with beliefs to match, keeps every residual under Huber's limit: plain least squares
      const plain = calibrate({
        responses,
        observations: observations.map((each) => ({ ...each, scatterPct: 100 * each.scatterPct, biasPct: 100 * each.biasPct })),
        beliefs: Object.fromEntries(
          Object.entries(USUAL_BELIEFS).map(([name, { value, deviation }]) => [name, { value, deviation: 100 * deviation }]),
        ) as typeof USUAL_BELIEFS,
      });
      off.plain.push(error(plain, truth, loss));
    }
    expect(rms(off.robust)).toBeLessThan(rms(off.plain));
  });

  it('halves the error of predictions at least, of prints that were kept from it', () => {
    const [before, after]: [number[], number[]] = [[], []];
    for (let seed = 0; seed < 50; seed++) {
      const truth = drawn(1000 + seed);
      const fit = calibrate({
        responses,
        observations: measured(responses.slice(0, 2), truth, { prints: 4, seed }),
        beliefs: USUAL_BELIEFS,
      });
      for (const quantity of Object.keys(NOISE)) {
        const x = coordinatesOf(truth);
        const known = { x, covariance: fit.covariance };
        const true_ = predict(responses[2], quantity, known).value;
        before.push(Math.log(responses[2].quantities[quantity].value / true_));
        after.push(Math.log(predict(responses[2], quantity, fit).value / true_));
      }
    }
    process.stdout.write(
      `errors of a version kept from the fit: ${(100 * rms(before)).toFixed(2)} % as designed, ${(100 * rms(after)).toFixed(2)} % calibrated\n`,
    );
    expect(rms(after)).toBeLessThan(rms(before) / 2);
  });

  it('widens its intervals where measurements scatter more than was said', () => {
    const observations = measured(responses, drawn(4), { prints: 6, seed: 4 });
    const understated = observations.map((each) => ({ ...each, scatterPct: each.scatterPct / 4 }));
    expect(fitOf(observations).widening).toBe(1);
    const fit = fitOf(understated);
    expect(fit.widening).toBeGreaterThan(1.5);
    expect(checkResiduals(fit).sentences.join(' ')).toMatch(/scatter more than was said/);
  });

  it('refuses a quantity that no response has', () => {
    const [first] = measured(responses, drawn(1), { prints: 1, seed: 1 });
    expect(() => fitOf([{ ...first, quantity: 'colour' }])).toThrow(/no response of colour/);
  });
});

describe('residual checks', () => {
  it('counts runs as in the handbook of NIST/SEMATECH, section 1.3.5.13 (from memory: 8 runs of 9 plus and 11 minus have mean 10.9)', () => {
    const signs = '++--+++----+-++-----+'
      .slice(0, 20)
      .split('')
      .map((sign) => (sign === '+' ? 1 : -1));
    const plus = signs.filter((each) => each > 0).length;
    const found = runsOf(signs)!;
    expect(found.expected).toBeCloseTo(1 + (2 * plus * (20 - plus)) / 20, 12);
    expect(found.count).toBe(8);
  });

  it('hears a drift in the runs', () => {
    expect(runsOf(Array.from({ length: 20 }, (_, k) => k - 9.5))!.z).toBeLessThan(-3);
  });

  it('rejects normal samples at 5 % about as often as it says, and exponential ones nearly always', () => {
    const sample = (seed: number, of: (d: ReturnType<typeof deviates>) => number) => {
      const d = deviates(seed, 11);
      return Array.from({ length: 40 }, () => of(d));
    };
    const rejected = (of: (d: ReturnType<typeof deviates>) => number) =>
      Array.from({ length: 400 }, (_, seed) => normalityOf(sample(seed, of))!.probability).filter((p) => p < 0.05).length;
    // 20 of 400 expected; three binomial deviations of 4.4
    const often = rejected((d) => d.normal());
    expect(often).toBeGreaterThan(6);
    expect(often).toBeLessThan(34);
    expect(rejected((d) => -Math.log(d.uniform()))).toBeGreaterThan(380);
  });

  it('shares out leverage: as much in all as there are unknowns told', () => {
    const fit = fitOf(measured(responses, drawn(3), { prints: 4, seed: 3 }));
    const { leverages } = checkResiduals(fit);
    const sum = leverages.reduce((total, each) => total + each, 0);
    expect(Math.min(...leverages)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...leverages)).toBeLessThanOrEqual(1);
    // trace of the hat matrix = sum over all x of 1 - posterior / prior variance, in the metric of the beliefs
    const told = fit.priorDeviations.reduce((total, own, k) => total + 1 - fit.covariance[k][k] / own ** 2, 0);
    expect(sum).toBeCloseTo(told, 3);
  });
});
