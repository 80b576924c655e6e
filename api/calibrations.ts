import type { FastifyBaseLogger } from 'fastify';
import { CALIBRATED, type Calibration, ENGINE_VERSION, type FieldError, type MaterialBody } from '../openapi/index.ts';
import { type CalibrationRecord, calibrationHash, type MeasurementRecord, type Records, type Version } from '../prisma/index.ts';
import { calibrationInputOf } from './calibration-input.ts';
import type { Handlers } from './handlers.ts';
import type { materialRecords } from './materials.ts';
import { type Dispatch, toQueue } from './queue.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'createCalibration' | 'listCalibrations' | 'getCalibration' | 'adoptCalibration';

export interface CalibrationOptions {
  records: Pick<Records, 'calibrations' | 'computations' | 'measurements' | 'versions'>;
  material: ReturnType<typeof materialRecords>;
  dispatch: Pick<Dispatch, 'dispatch'>;
  log: FastifyBaseLogger;
}

const MOST_MEASUREMENTS = 5000;
/** Each takes the engine some ten seconds. */
const MOST_VERSIONS = 16;

const state = ({ id, status, stage, progressPct, createdAt, startedAt, finishedAt }: CalibrationRecord) => ({
  id,
  status,
  stage,
  progressPct,
  createdAt: createdAt.toISOString(),
  startedAt: startedAt?.toISOString() ?? null,
  finishedAt: finishedAt?.toISOString() ?? null,
});
const shown = (record: CalibrationRecord): Calibration => ({
  ...state(record),
  input: record.input,
  result: record.result,
  error: record.error,
});

const refused = (pointer: string, value: unknown, detail: string): Refusal =>
  new Refusal('invalid-body', { errors: [{ pointer, value, detail } as FieldError] });

/** A material learns from its prints: calibrations, and the records that come of them. */
export function calibrationHandlers({ records, material, dispatch, log }: CalibrationOptions): Handlers<Operation> {
  const { calibrations, measurements, versions } = records;

  const versionsOf = async (teamId: string, evidence: readonly MeasurementRecord[], candidates: readonly string[]): Promise<Version[]> => {
    const ids = [...new Set([...evidence.map(({ print }) => print.versionId), ...candidates])];
    if (ids.length > MOST_VERSIONS)
      throw refused(
        '',
        undefined,
        `names ${ids.length} versions, measured ones and candidates together; allowed: at most ${MOST_VERSIONS}`,
      );
    const all = await Promise.all(ids.map((id) => versions.get(teamId, id)));
    const errors = candidates.flatMap((id, k): FieldError[] => {
      const detail = 'is not known; allowed: the id of a version of one of the team’s designs';
      return all[ids.indexOf(id)] ? [] : [{ pointer: `/candidates/${k}`, value: id, detail }];
    });
    if (errors.length > 0) throw new Refusal('invalid-body', { errors });
    return all.filter((each) => each !== null);
  };

  return {
    createCalibration: async ({ body, caller: { teamId } }) => {
      const { material: key, finishing, noise, candidates, targets, ...filter } = body;
      const record = await material.find(teamId, key);
      if (!record) throw refused('/material', key, `is not known; allowed: ${(await material.keys(teamId)).slice(0, 30).join(', ')}`);
      const evidence = await measurements.evidence(teamId, { ...filter, material: key }, MOST_MEASUREMENTS);
      const { builtIn: _, ...own } = record;
      const { calibrationId } = record.calibration ?? {};
      const before = calibrationId === undefined ? null : await calibrations.get(teamId, calibrationId);
      const input = calibrationInputOf(own, evidence, {
        versions: await versionsOf(teamId, evidence, candidates),
        request: { finishing, noise, candidates, targets },
        before: before?.input ?? null,
      });
      if (input.observations.length === 0) {
        const detail = `chooses ${evidence.length} measurements, none of which can be used; required: at least one of ${CALIBRATED.join(', ')} on a print of ${key}`;
        throw refused('/material', key, detail);
      }
      const submission = { input, inputHash: calibrationHash(input), engineVersion: ENGINE_VERSION };
      const { run, dispatch: computationId } = await calibrations.submit(teamId, submission);
      const afterwards = async () => {
        if (computationId) await toQueue(computationId, { teamId, computations: records.computations, dispatch, log });
      };
      return { body: shown(run), location: `/v1/calibrations/${run.id}`, afterwards };
    },
    listCalibrations: async ({ query, caller }) => {
      const { items, nextCursor } = await calibrations.list(caller.teamId, query);
      const summary = (each: CalibrationRecord) => ({
        ...state(each),
        material: each.input.material.key ?? '',
        observations: each.input.observations.length,
      });
      return { body: { items: items.map(summary), nextCursor } };
    },
    getCalibration: async ({ params, caller }) => ({
      body: shown(found(await calibrations.get(caller.teamId, params.id), 'calibration')),
    }),
    adoptCalibration: async ({ params, body: { key }, caller }) => {
      const { status, result, id } = found(await calibrations.get(caller.teamId, params.id), 'calibration');
      if (!result) throw new Refusal('not-finished', { detail: `The calibration is ${status}; only a finished one leaves a material` });
      const { key: _, revision: __, calibration, ...values } = result.material;
      const learnt = `calibration ${id}`;
      const source = { ...values.source, strutGrowthMm: learnt, densityGCm3: learnt, modulusMPa: learnt, jointFactor: learnt };
      const adopted = { ...values, key, calibration: calibration && { ...calibration, calibrationId: id }, source } as MaterialBody;
      return material.create({ body: adopted, caller });
    },
  };
}
