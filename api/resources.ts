import type { FastifyBaseLogger } from 'fastify';
import type { Records } from '../prisma/index.ts';
import { acceptanceHandlers } from './acceptances.ts';
import { batchHandlers } from './batches.ts';
import { buildVolumeHandlers, buildVolumeRecords } from './build-volumes.ts';
import { calibrationHandlers } from './calibrations.ts';
import { comparisonHandlers } from './comparisons.ts';
import { designHandlers } from './designs.ts';
import { differenceHandlers } from './differences.ts';
import { effectHandlers } from './effects.ts';
import { evaluationHandlers } from './evaluations.ts';
import { exportHandlers } from './exports.ts';
import { fileHandlers } from './files.ts';
import { frontHandlers } from './front.ts';
import { historyHandlers } from './history.ts';
import { keyHandlers } from './keys.ts';
import { lineageHandlers } from './lineage.ts';
import { teamLookup } from './lookup.ts';
import { materialHandlers, materialRecords } from './materials.ts';
import { importHandlers } from './measurement-import.ts';
import { measurementHandlers } from './measurements.ts';
import { printHandlers } from './prints.ts';
import type { Dispatch } from './queue.ts';
import { reevaluationHandlers } from './reevaluations.ts';
import { referenceHandlers, referenceRecords } from './references.ts';
import { retentionHandlers } from './retention.ts';
import { searchHandlers } from './searches.ts';
import { selectionEffectHandlers } from './selection-effects.ts';
import { surfaceHandlers } from './surfaces.ts';
import { trayHandlers } from './trays.ts';
import { versionHandlers } from './versions.ts';

/** The handlers of everything a team keeps. They hold nothing themselves, so they can be made anew inside a transaction. */
export function resourceHandlers({ records, dispatch, log }: { records: Records; dispatch: Dispatch; log: FastifyBaseLogger }) {
  const material = materialRecords(records.materials);
  const buildVolume = buildVolumeRecords(records.buildVolumes);
  const reference = referenceRecords(records.references);
  const lookup = teamLookup({ material, buildVolume, reference });
  return {
    ...materialHandlers(material),
    ...buildVolumeHandlers(buildVolume),
    ...referenceHandlers(reference),
    ...designHandlers(records.designs),
    ...versionHandlers(records.versions),
    ...lineageHandlers(records.versions),
    ...evaluationHandlers({ records, lookup, dispatch, log }),
    ...batchHandlers({ records, lookup }),
    ...searchHandlers({ records, lookup }),
    ...reevaluationHandlers(records),
    ...surfaceHandlers({ records, dispatch, log }),
    ...effectHandlers(records),
    ...selectionEffectHandlers(records.evaluations),
    ...trayHandlers({ records, lookup, dispatch, log }),
    ...printHandlers({ prints: records.prints, material, buildVolume }),
    ...measurementHandlers(records),
    ...calibrationHandlers({ records, material, dispatch, log }),
    ...importHandlers(records),
    ...comparisonHandlers(records),
    ...acceptanceHandlers({ records, reference }),
    ...differenceHandlers(records),
    ...historyHandlers(records.evaluations),
    ...frontHandlers(records.evaluations),
    ...exportHandlers(records.evaluations),
    ...fileHandlers({ records, dispatch, log }),
    ...retentionHandlers(records.retention),
    ...keyHandlers(records),
  };
}
