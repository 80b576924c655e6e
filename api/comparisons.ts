import {
  type ComparedQuantity,
  type ComparisonGroup,
  finishingOf,
  MEASURED_QUANTITIES,
  type MeasuredQuantity,
  type VersionComparison,
} from '../openapi/index.ts';
import type { EvaluationRecord, MeasurementRecord, Records, Version } from '../prisma/index.ts';
import { evidenceOf, MOST_EVIDENCE, meanOf, summaryOf } from './evidence.ts';
import type { Handlers } from './handlers.ts';
import { conditionsOf, finishingAdds, predictionOf } from './predicted.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'compareVersionWithPrints' | 'compareDesignWithPrints';

/** Versions of a design that are compared at once. */
const MOST_VERSIONS = 50;

export type ComparisonOptions = Pick<Records, 'designs' | 'versions' | 'evaluations' | 'measurements'>;

/** What was predicted beside what was measured. */
export function comparisonHandlers({ designs, versions, evaluations, measurements }: ComparisonOptions): Handlers<Operation> {
  const compared = (teamId: string, version: Version, records: MeasurementRecord[], asked: EvaluationRecord | null) =>
    Promise.all(
      groupsOf(records).map(async (group): Promise<ComparisonGroup> => {
        const { material, buildVolume } = group[0].print;
        const wanted = { versionId: version.id, material: material.key, buildVolume: buildVolume.key };
        return comparisonOf(group, asked ?? (await evaluations.newestOf(teamId, wanted)));
      }),
    );

  return {
    compareVersionWithPrints: async ({ params, query: { evaluationId }, caller: { teamId } }) => {
      const version = found(await versions.byNumber(teamId, params.id, params.number), 'version');
      const asked = evaluationId === undefined ? null : await evaluationOf(teamId, version, evaluationId);
      const records = await measurements.evidence(teamId, { versionId: version.id }, MOST_EVIDENCE);
      const groups = await compared(teamId, version, records, asked);
      return { body: { designId: version.designId, versionId: version.id, number: version.number, groups } };
    },
    compareDesignWithPrints: async ({ params, caller: { teamId } }) => {
      const design = found(await designs.get(teamId, params.id), 'design');
      const records = await measurements.evidence(teamId, { designId: design.id }, MOST_EVIDENCE);
      const ids = [...new Map(records.map(({ print }) => [print.version, print.versionId]))]
        .sort(([a], [b]) => a - b)
        .slice(-MOST_VERSIONS);
      const comparisons: VersionComparison[] = [];
      for (const [number, versionId] of ids) {
        const version = found(await versions.get(teamId, versionId), 'version');
        const own = records.filter(({ print }) => print.versionId === versionId);
        comparisons.push({ designId: design.id, versionId, number, groups: await compared(teamId, version, own, null) });
      }
      return { body: { designId: design.id, quantities: trendsOf(comparisons) } };
    },
  };

  async function evaluationOf(teamId: string, version: Version, id: string): Promise<EvaluationRecord> {
    const evaluation = await evaluations.get(teamId, id);
    if (evaluation?.versionId === version.id && evaluation.status === 'done') return evaluation;
    const detail = 'is not known; allowed: the id of an evaluation of this version that is done';
    throw new Refusal('invalid-query', { errors: [{ pointer: '/evaluationId', value: id, detail }] });
  }
}

/** Measurements of parts that were made alike. */
function groupsOf(records: readonly MeasurementRecord[]): MeasurementRecord[][] {
  const groups = new Map<string, MeasurementRecord[]>();
  for (const record of records) {
    const { material, buildVolume } = record.print;
    const key = JSON.stringify([material, buildVolume, finishingOf(record.print)]);
    const group = groups.get(key);
    if (group) group.push(record);
    else groups.set(key, [record]);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, group]) => group);
}

function comparisonOf(group: MeasurementRecord[], evaluation: EvaluationRecord | null): ComparisonGroup {
  const { print } = group[0];
  const input = evaluation?.input.material;
  return {
    ...{ material: print.material, buildVolume: print.buildVolume, finishing: finishingOf(print) },
    evaluation: evaluation && {
      id: evaluation.id,
      engineVersion: evaluation.engineVersion,
      material: input?.key ?? null,
      materialRevision: input?.revision ?? null,
    },
    quantities: MEASURED_QUANTITIES.flatMap((quantity) => comparedQuantity(group, evaluation, quantity) ?? []),
  };
}

function comparedQuantity(
  group: MeasurementRecord[],
  evaluation: EvaluationRecord | null,
  quantity: MeasuredQuantity,
): ComparedQuantity | null {
  const evidence = evidenceOf(group, quantity, evaluation ? conditionsOf(evaluation) : {});
  if (evidence.parts.length === 0) return null;
  const measured = summaryOf(evidence);
  const prediction = evaluation?.result ? predictionOf(evaluation.result, quantity) : null;
  if (!prediction) {
    const nothing = { predicted: null, band: null, difference: null, differencePct: null, inside: null, printsInside: null };
    return { quantity, ...nothing, finishing: 0, measured };
  }
  const prints = new Map(evidence.measurements.map(({ print }) => [print.id, print]));
  const finishing = meanOf([...prints.values()].map((print) => finishingAdds(quantity, print.finishing)));
  const predicted = prediction.predicted + finishing;
  const band = prediction.band && { ...prediction.band, min: prediction.band.min + finishing, max: prediction.band.max + finishing };
  const isInside = (value: number) => band !== null && value >= band.min && value <= band.max;
  const difference = measured.mean - predicted;
  return {
    ...{ quantity, predicted, finishing, band, difference },
    differencePct: predicted === 0 ? null : (100 * difference) / predicted,
    inside: band && isInside(measured.mean),
    printsInside: band && evidence.parts.filter(({ value }) => isInside(value)).length,
    measured,
  };
}

function trendsOf(comparisons: readonly VersionComparison[]) {
  return MEASURED_QUANTITIES.flatMap((quantity) => {
    const points = comparisons.flatMap(({ versionId, number, groups }) =>
      groups.flatMap(({ material, buildVolume, finishing, quantities }) =>
        quantities
          .filter((each) => each.quantity === quantity)
          .map(({ predicted, differencePct, inside, measured }) => ({
            ...{ versionId, number, material, buildVolume, finishing, predicted, differencePct, inside },
            ...{ measured: measured.mean, deviation: measured.deviation, prints: measured.prints },
          })),
      ),
    );
    const off = points.flatMap(({ differencePct }) => (differencePct === null ? [] : Math.abs(differencePct)));
    return points.length === 0 ? [] : [{ quantity, points, closerBy: off.length > 1 ? off[0] - off[off.length - 1] : null }];
  });
}
