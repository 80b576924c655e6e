import type { Lookup } from '../openapi/index.ts';
import type { buildVolumeRecords } from './build-volumes.ts';
import type { materialRecords } from './materials.ts';
import type { referenceRecords } from './references.ts';

export interface RecordKinds {
  material: ReturnType<typeof materialRecords>;
  buildVolume: ReturnType<typeof buildVolumeRecords>;
  reference: ReturnType<typeof referenceRecords>;
}

/** The records that a team may name in an evaluation: the newest revision of a built-in one or of its own. */
export const teamLookup =
  (kinds: RecordKinds) =>
  (teamId: string): Lookup => ({
    material: async (key) => (await kinds.material.find(teamId, key)) ?? undefined,
    buildVolume: async (key) => (await kinds.buildVolume.find(teamId, key)) ?? undefined,
    reference: async (key) => (await kinds.reference.find(teamId, key)) ?? undefined,
    keys: (kind) => kinds[kind].keys(teamId),
  });
