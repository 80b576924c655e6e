import { BUILD_VOLUMES, type BuildVolume, type BuildVolumeBody } from '../openapi/index.ts';
import type { Revisions } from '../prisma/index.ts';
import { revisioned } from './revisioned.ts';

/** Built-in and own build volumes. */
export const buildVolumeRecords = (own: Revisions<BuildVolumeBody>) =>
  revisioned<BuildVolumeBody, BuildVolume>({ what: 'build volume', url: '/v1/build-volumes', builtIn: BUILD_VOLUMES, own });

export const buildVolumeHandlers = ({ create, list, get, archive }: ReturnType<typeof buildVolumeRecords>) => ({
  createBuildVolume: create,
  listBuildVolumes: list,
  getBuildVolume: get,
  archiveBuildVolume: archive,
});
