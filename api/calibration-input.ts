import {
  CALIBRATED,
  type CalibratedQuantity,
  type CalibrationInput,
  type CalibrationRequest,
  finishingOf,
  type InlineMaterial,
  settle,
} from '../openapi/index.ts';
import type { MeasurementRecord, Version } from '../prisma/index.ts';

/**
 * Percent, one standard deviation: of parts about their version, and of what an instrument may be off for all it reads. Scatters as in the usual variation of
 * printed parts; biases by judgement: scales are checked, shrinkage is guessed, presses and videos are read with an error of their own.
 */
const USUAL_NOISE: Readonly<Record<CalibratedQuantity, { scatterPct: number; biasPct: number }>> = {
  massG: { scatterPct: 1.5, biasPct: 0.2 },
  outsideDiameterMm: { scatterPct: 0.2, biasPct: 0.3 },
  circumferenceMm: { scatterPct: 0.2, biasPct: 0.3 },
  stiffnessNPerMm: { scatterPct: 5, biasPct: 3 },
  restitution: { scatterPct: 1.5, biasPct: 1 },
};

type Observation = CalibrationInput['observations'][number];
type LeftOut = CalibrationInput['leftOut'][number];

/** What a calibration is computed from: one observation for each quantity of a measurement, the tests at the conditions that most were made at. */
export function calibrationInputOf(
  material: InlineMaterial,
  evidence: readonly MeasurementRecord[],
  {
    versions,
    request,
    before,
  }: {
    versions: readonly Version[];
    request: Pick<CalibrationRequest, 'noise' | 'finishing' | 'candidates' | 'targets'>;
    /** What the record was calibrated from; null where it was not. */
    before: CalibrationInput | null;
  },
): CalibrationInput {
  const noise = { ...USUAL_NOISE, ...request.noise };
  const secantAtPct = mostOften(evidence.map(({ values }) => values.conditions.secantAtPct));
  const dropHeightMm = mostOften(evidence.map(({ values }) => values.conditions.dropHeightMm));
  const places = versions.map(({ id }) => id);
  const observations: Observation[] = [];
  const leftOut: LeftOut[] = [];
  for (const { id: measurementId, print, given, values } of evidence) {
    const reason = reasonOf({ values, print }, { finishing: request.finishing, secantAtPct, dropHeightMm });
    if (reason) leftOut.push({ measurementId, reason });
    for (const quantity of reason ? [] : CALIBRATED) {
      const repeats = values.quantities[quantity];
      if (!repeats?.length || repeats.some((each) => !(each > 0))) continue;
      const value = repeats.reduce((sum, each) => sum + each, 0) / repeats.length;
      const where = { measurementId, version: places.indexOf(print.versionId), quantity };
      observations.push({ ...where, value, ...noise[quantity], instrument: given.instrument });
    }
  }
  const learntFrom = new Set(before?.observations.map((each) => each.measurementId));
  const usedBefore = observations.filter((each) => learntFrom.has(each.measurementId)).length;
  return {
    ...(usedBefore > 0 && { usedBefore }),
    material,
    conditions: { secantAtPct, dropHeightMm },
    versions: versions.map(({ id, number, parameterSet }) => ({ versionId: id, number, parameterSet: settle(parameterSet) })),
    observations,
    noise,
    candidates: request.candidates.map((id) => places.indexOf(id)),
    targets: request.targets,
    leftOut,
  };
}

function reasonOf(
  { values, print }: Pick<MeasurementRecord, 'values' | 'print'>,
  chosen: { finishing?: string; secantAtPct: number | null; dropHeightMm: number | null },
): string | null {
  const { secantAtPct, dropHeightMm } = values.conditions;
  if (chosen.finishing !== undefined && finishingOf(print) !== chosen.finishing)
    return `the print is finished otherwise: ${finishingOf(print)}`;
  if (secantAtPct !== undefined && secantAtPct !== chosen.secantAtPct)
    return `taken at ${secantAtPct} %, most are at ${chosen.secantAtPct} %`;
  if (dropHeightMm !== undefined && dropHeightMm !== chosen.dropHeightMm)
    return `from ${dropHeightMm} mm, most are from ${chosen.dropHeightMm} mm`;
  if (!CALIBRATED.some((quantity) => values.quantities[quantity]?.length)) return 'holds nothing that a calibration reads';
  return null;
}

/** null: none has one. The first of those that are as many. */
function mostOften(values: readonly (number | undefined)[]): number | null {
  const counts = new Map<number, number>();
  for (const value of values) if (value !== undefined) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].reduce<[number | null, number]>((best, each) => (each[1] > best[1] ? each : best), [null, 0])[0];
}
