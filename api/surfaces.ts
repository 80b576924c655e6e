import type { FastifyBaseLogger } from 'fastify';
import {
  countsOf,
  ENGINE_VERSION,
  type FieldError,
  mixedVersions,
  type Surface,
  type SurfaceInput,
  type SurfaceRequest,
} from '../openapi/index.ts';
import { type Records, type SurfaceRecord, surfaceHash } from '../prisma/index.ts';
import { FEWEST_POINTS } from '../worker/engine/regression/index.ts';
import type { Handlers } from './handlers.ts';
import { predictionsOf } from './predictions.ts';
import { type Dispatch, toQueue } from './queue.ts';
import { found, Refusal } from './refusal.ts';
import { rowOf, shownChoices, variedBy } from './varied.ts';

type Operation = 'createSurface' | 'listSurfaces' | 'getSurface' | 'predict';

export interface SurfaceOptions {
  records: Pick<Records, 'surfaces' | 'undertakings' | 'computations'>;
  dispatch: Pick<Dispatch, 'dispatch'>;
  log: FastifyBaseLogger;
}

/** Some hundreds are fitted to, the others check the fit: more would only make what is stored larger. */
const MOST_POINTS = 2000;

const state = (record: SurfaceRecord) => ({
  ...{ id: record.id, status: record.status, stage: record.stage, progressPct: record.progressPct },
  createdAt: record.createdAt.toISOString(),
  startedAt: record.startedAt?.toISOString() ?? null,
  finishedAt: record.finishedAt?.toISOString() ?? null,
  ...{ batchId: record.input.batchId ?? null, searchId: record.input.searchId ?? null },
  ...{ finished: record.input.finished, points: record.input.points, quantities: record.input.quantities },
});
const shown = (record: SurfaceRecord): Surface => ({
  ...state(record),
  ...{ factors: record.input.factors, result: record.result, error: record.error },
  warnings: mixedVersions(record.input.engineVersions ?? {}),
});

const refused = (pointer: string, value: unknown, detail: string): Refusal =>
  new Refusal('invalid-body', { errors: [{ pointer, value, detail } as FieldError] });

/** Quantities as functions of what a batch or a search varied: fitted by a worker, asked here. */
export function surfaceHandlers({ records, dispatch, log }: SurfaceOptions): Handlers<Operation> {
  const { surfaces, undertakings } = records;

  /** What the surface is to be fitted to, as it is now. */
  const inputOf = async (teamId: string, { batchId, searchId, quantities }: SurfaceRequest): Promise<SurfaceInput> => {
    const [kind, name, id] = batchId ? (['batch', 'batchId', batchId] as const) : (['search', 'searchId', searchId!] as const);
    const undertaking = await undertakings.get(teamId, kind, id);
    if (!undertaking) throw refused(`/${name}`, id, `is not known; allowed: the id of a ${kind} of the team`);
    const varied = variedBy(undertaking);
    const paths = varied.map(({ path }) => path);
    const { finished, rows } = await undertakings.outcomes(teamId, id, { paths, quantities, most: MOST_POINTS });
    const known = rows.flatMap(({ settings, values, engineVersion }) => {
      const row = rowOf(varied, settings);
      return row ? [{ row, values, engineVersion }] : [];
    });
    if (known.length < FEWEST_POINTS) {
      const detail = `has ${known.length} finished evaluations with ${quantities.join(', ')}; required: at least ${FEWEST_POINTS}`;
      throw refused(`/${name}`, id, detail);
    }
    const range = (k: number) => ({
      min: Math.min(...known.map(({ row }) => row[k])),
      max: Math.max(...known.map(({ row }) => row[k])),
    });
    const engineVersions = countsOf(known);
    return {
      ...(Object.keys(engineVersions).length > 1 && { engineVersions }),
      ...{ batchId, searchId, finished, points: known.length, quantities },
      factors: varied.map((each, k) => ({
        ...{ path: each.path, choices: shownChoices(each), ...(each.choices ? { min: null, max: null } : range(k)) },
      })),
      rows: known.map(({ row }) => row),
      values: quantities.map((_, k) => known.map(({ values }) => values[k])),
    };
  };

  return {
    createSurface: async ({ body, caller: { teamId } }) => {
      const input = await inputOf(teamId, body);
      const { run, dispatch: computationId } = await surfaces.submit(teamId, {
        input,
        inputHash: surfaceHash(input),
        engineVersion: ENGINE_VERSION,
      });
      const afterwards = async () => {
        if (computationId) await toQueue(computationId, { teamId, computations: records.computations, dispatch, log });
      };
      return { body: shown(run), location: `/v1/surfaces/${run.id}`, afterwards };
    },
    listSurfaces: async ({ query, caller }) => {
      const { items, nextCursor } = await surfaces.list(caller.teamId, query);
      return { body: { items: items.map(state), nextCursor } };
    },
    getSurface: async ({ params, caller }) => ({ body: shown(found(await surfaces.get(caller.teamId, params.id), 'surface')) }),
    predict: async ({ params, body, caller }) => {
      const { status, input, result } = found(await surfaces.get(caller.teamId, params.id), 'surface');
      if (!result) throw new Refusal('not-finished', { detail: `The surface is ${status}; only a finished one answers` });
      return { body: predictionsOf(input, result, body) };
    },
  };
}
