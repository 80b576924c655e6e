import { z } from 'zod';
import { money, positive, recordKey, sourceByField } from './common.ts';

const values = {
  sizeMm: z.tuple([positive(5000), positive(5000), positive(5000)]).meta({ description: 'Inside of the build chamber along x, y, z' }),
  wallMarginMm: z.number().min(0).max(500),
  partSpacingMm: z.number().min(0).max(500),
  layerMm: z.number().min(0.01).max(1),
  recoatS: z.number().min(0).max(600),
  minLayerS: z.number().min(0).max(3600),
  scanSpeedMmS: positive(1e6),
  contourSpeedMmS: positive(1e6),
  hatchMm: positive(10),
  warmUpHours: z.number().min(0).max(100),
  coverMm: z.number().min(0).max(500),
  coolDownHoursPerBuildHour: z.number().min(0).max(10),
  hourlyRate: money,
  setUpHours: z.number().min(0).max(100),
  source: sourceByField.default({}),
};

export const inlineBuildVolume = z
  .strictObject({ key: recordKey.optional(), revision: z.int().min(1).optional(), ...values })
  .meta({ id: 'InlineBuildVolume' });
export const buildVolumeBody = z
  .strictObject({ key: recordKey, ...values })
  .meta({ id: 'BuildVolumeBody', description: "A team's own build volume; posting a key again makes its next revision" });
export const buildVolume = z
  .strictObject({ key: recordKey, revision: z.int().min(1), builtIn: z.boolean(), ...values })
  .meta({ id: 'BuildVolume', description: 'The chamber a build is made in, with the rates that time and cost follow from' });
export type InlineBuildVolume = z.infer<typeof inlineBuildVolume>;
export type BuildVolumeBody = z.infer<typeof buildVolumeBody>;
export type BuildVolume = z.infer<typeof buildVolume>;
