import {
  type Aim,
  calibrate,
  checkResiduals,
  type Fit,
  identify,
  judgeCandidates,
  type Noise,
  nextPrint,
  type Observation,
  predict,
  spread,
  UNKNOWNS,
  type Unknown,
  USUAL_BELIEFS,
  type VersionResponse,
} from './calibration/index.ts';
import type { Warning } from './cautions.ts';
import { Cancelled, type Course, type EvaluationHooks, openCourse } from './course.ts';
import type { ParameterSet } from './lattice/index.ts';
import type { EngineError, MechanicsInput } from './mechanics.ts';
import { SHORT_NAMES } from './targets.ts';
import { type TestConditions, versionResponse } from './version-response.ts';

export const CALIBRATION_STAGES = ['responses', 'fit'] as const;
type Stage = (typeof CALIBRATION_STAGES)[number];

export interface CalibratingInput<Material> {
  readonly material: Material;
  readonly conditions: TestConditions;
  readonly versions: readonly { readonly versionId: string; readonly number: number; readonly parameterSet: ParameterSet }[];
  readonly observations: readonly (Observation & { readonly measurementId: string })[];
  readonly noise: Readonly<Record<string, Noise>>;
  /** Places in the list of versions. */
  readonly candidates: readonly number[];
  readonly targets: readonly Aim[];
  /** Of the observations, those that the material record was calibrated from already. */
  readonly usedBefore?: number;
}
/** What a calibration reads of a material record. */
type PrintedMaterial = MechanicsInput['material'] & { readonly densityGCm3: number };

export type CalibratingOutcome<Material extends PrintedMaterial> =
  | { readonly kind: 'done'; readonly result: ReturnType<typeof resultOf<Material>> }
  | { readonly kind: 'failed'; readonly error: EngineError; readonly partial: null }
  | { readonly kind: 'cancelled' };

/** One calibration: how each version follows the unknowns, the fit, what it does not tell, the record with what was learnt, the next print. */
export function calibrationOf<Material extends PrintedMaterial>(
  input: CalibratingInput<Material>,
  hooks: EvaluationHooks = {},
): CalibratingOutcome<Material> {
  const course = openCourse<Stage>(
    [
      ['responses', 100 * input.versions.length],
      ['fit', 1],
    ],
    hooks,
  );
  try {
    const found = responsesOf(input, course);
    if (found.kind === 'fault') return { kind: 'failed', error: found.fault, partial: null };
    course.enter('fit');
    const fit = calibrate({ responses: found.responses, observations: input.observations, beliefs: USUAL_BELIEFS });
    return { kind: 'done', result: resultOf(input, found.responses, fit) };
  } catch (error) {
    if (error instanceof Cancelled) return { kind: 'cancelled' };
    throw error;
  }
}

function responsesOf<M extends PrintedMaterial>({ versions, material, conditions }: CalibratingInput<M>, course: Course<Stage>) {
  course.enter('responses');
  const responses: VersionResponse[] = [];
  // what an earlier calibration learnt is learnt anew
  const bare = { ...material, strutGrowthMm: null, jointFactor: null };
  for (const { parameterSet } of versions) {
    const found = versionResponse(parameterSet, bare, conditions, {
      isCancelled: course.isCancelled,
      onProgress: (share) => course.reach((responses.length + share) / versions.length),
    });
    if (found.kind === 'fault') return found;
    responses.push(found.response);
  }
  return { kind: 'responses' as const, responses };
}

function resultOf<M extends PrintedMaterial>(input: CalibratingInput<M>, responses: readonly VersionResponse[], fit: Fit) {
  const { notTold, together, sentences, unknowns } = identify(fit);
  const { leverages, outliers: _, ...checks } = checkResiduals(fit);
  return {
    estimates: estimatesOf(fit, unknowns),
    identifiability: {
      notTold: [...notTold],
      together: together.map((each) => ({ ...each, unknowns: [each.unknowns[0], each.unknowns[1]] as [Unknown, Unknown] })),
      sentences: [...sentences],
    },
    biases: [...fit.biases],
    residuals: { ...checks, sentences: [...checks.sentences], items: itemsOf(input, responses, fit, leverages) },
    widening: fit.widening,
    material: calibratedMaterial(input.material, responses, fit),
    predictions: input.versions.flatMap(({ versionId, number }, k) =>
      Object.keys(responses[k].quantities).map((quantity) => ({
        versionId,
        version: number,
        quantity,
        ...predict(responses[k], quantity, fit),
      })),
    ),
    nextPrint: adviceOf(input, responses, fit),
    warnings: warningsOf(input, fit),
  };
}

/** What is to be known before anything of it is believed. */
export function warningsOf(
  { usedBefore = 0, observations }: Pick<CalibratingInput<unknown>, 'usedBefore' | 'observations'>,
  fit: Pick<Fit, 'converged'>,
): Warning[] {
  const warnings: Warning[] = [];
  if (!fit.converged)
    warnings.push({ code: 'fit-not-settled', message: 'The weights of the robust loss had not settled after 50 rounds.' });
  if (usedBefore > 0) {
    const message = `${usedBefore} of ${observations.length} observations are those that the record was calibrated from: they count twice, so the intervals are too narrow. Calibrate the record from before, or from new prints.`;
    warnings.push({ code: 'data-used-twice', message });
  }
  return warnings;
}

function estimatesOf(fit: Fit, told: ReturnType<typeof identify>['unknowns']) {
  return UNKNOWNS.map((unknown, k) => {
    const deviation = Math.sqrt(fit.covariance[k][k]);
    const { told: how, remainingShare } = told[k];
    const value = fit.values[unknown];
    const { standardError, low, high } = unknown.startsWith('growth')
      ? { standardError: deviation, low: value - 1.959964 * deviation, high: value + 1.959964 * deviation }
      : spread(fit.x[k], deviation);
    return { unknown, value, standardError, low, high, believed: USUAL_BELIEFS[unknown], told: how, remainingShare };
  });
}

const itemsOf = <M>(input: CalibratingInput<M>, responses: readonly VersionResponse[], fit: Fit, leverages: readonly number[]) =>
  input.observations.map(({ measurementId, version, quantity, value }, k) => ({
    ...{ measurementId, quantity, measured: value, predicted: predict(responses[version], quantity, fit).value },
    asDesigned: responses[version].quantities[quantity].value,
    ...{ standardised: fit.residuals[k], weight: fit.weights[k], leverage: leverages[k] },
  }));

/** The record with what was learnt on it, and how uncertain predictions are: root mean square over the versions, of ln q. */
function calibratedMaterial<M extends PrintedMaterial>(record: M, responses: readonly VersionResponse[], fit: Fit) {
  const { growthInLayerMm: inLayer, growthUprightMm: upright, densityFactor, modulusFactor, lossFactorFactor, jointFactor } = fit.values;
  const quantities = [...new Set(responses.flatMap(({ quantities: of }) => Object.keys(of)))];
  const spreadPct = quantities.map((quantity) => {
    const shares = responses
      .filter(({ quantities: of }) => of[quantity])
      .map((each) => {
        const { value, standardError } = predict(each, quantity, fit);
        return (standardError / value) ** 2;
      });
    return {
      quantity: SHORT_NAMES[quantity] ?? quantity,
      spreadPct: 100 * Math.sqrt(shares.reduce((sum, each) => sum + each, 0) / shares.length),
    };
  });
  const { quasiStaticModulusMPa: slow, lossFactor, byTemperature } = record;
  const rows = byTemperature?.map((row) => ({
    ...{ ...row, modulusMPa: row.modulusMPa * modulusFactor },
    ...(row.lossFactor !== undefined && { lossFactor: row.lossFactor * lossFactorFactor }),
  }));
  return {
    ...record,
    densityGCm3: record.densityGCm3 * densityFactor,
    modulusMPa: record.modulusMPa * modulusFactor,
    quasiStaticModulusMPa: slow === null ? null : slow * modulusFactor,
    ...(lossFactor != null && { lossFactor: lossFactor * lossFactorFactor }),
    ...(rows && { byTemperature: rows }),
    strutGrowthMm: { inLayer, upright },
    jointFactor,
    calibration: { spreadPct },
  };
}

function adviceOf<M>({ candidates, versions, targets, noise }: CalibratingInput<M>, responses: readonly VersionResponse[], fit: Fit) {
  if (candidates.length === 0 || targets.length === 0) return null;
  const name = (k: number) => `version ${versions[k].number}`;
  const judged = judgeCandidates(
    candidates.map((k) => ({ id: name(k), response: responses[k] })),
    targets,
    fit,
    noise,
  );
  const { advised, why, reasons } = nextPrint(judged);
  const at = candidates.find((k) => name(k) === advised);
  return {
    ...{ advised: at === undefined ? null : versions[at].versionId, why, reasons: [...reasons] },
    candidates: judged.map(({ id: _, aims, ...each }, k) => {
      const { versionId, number } = versions[candidates[k]];
      return { versionId, version: number, ...each, aims: [...aims] };
    }),
  };
}
