import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import { inputHash } from '../prisma/index.ts';
import type { Undertaking } from './conductor.ts';
import { type PointsOptions, pointsUndertaking } from './points.ts';

/**
 * Re-evaluations: each point is the input of an earlier evaluation as it is stored, records and all, under the version of the engine that this worker
 * has; the new evaluation belongs to the same version of a design.
 */
export const reevaluationUndertaking = (options: PointsOptions): Undertaking =>
  pointsUndertaking(
    {
      kind: 'reevaluation',
      pointsOf: async (held, from, count) =>
        (await held.earlier(from, count)).map(({ input, designId, versionId }) => ({
          submission: { input, inputHash: inputHash(input), engineVersion: ENGINE_VERSION, designId, versionId },
        })),
    },
    options,
  );
