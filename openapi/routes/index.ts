import type { Route } from '../route.ts';
import { acceptanceRoutes } from './acceptances.ts';
import { batchRoutes } from './batches.ts';
import { calibrationRoutes } from './calibrations.ts';
import { designRoutes } from './designs.ts';
import { evaluationRoutes } from './evaluations.ts';
import { keyRoutes } from './keys.ts';
import { measurementRoutes } from './measurements.ts';
import { printRoutes } from './prints.ts';
import { recordRoutes } from './records.ts';
import { reevaluationRoutes } from './reevaluations.ts';
import { retentionRoutes } from './retention.ts';
import { searchRoutes } from './searches.ts';
import { serviceRoutes } from './service.ts';
import { surfaceRoutes } from './surfaces.ts';
import { trayRoutes } from './trays.ts';

/** Every route, by its operation id. */
export const routes = {
  ...evaluationRoutes,
  ...batchRoutes,
  ...reevaluationRoutes,
  ...searchRoutes,
  ...surfaceRoutes,
  ...trayRoutes,
  ...designRoutes,
  ...printRoutes,
  ...measurementRoutes,
  ...acceptanceRoutes,
  ...calibrationRoutes,
  ...recordRoutes,
  ...retentionRoutes,
  ...keyRoutes,
  ...serviceRoutes,
} as const satisfies Record<string, Route>;

export type Routes = typeof routes;
export type OperationId = keyof Routes;
