import { z } from 'zod';
import { money, positive, recordKey, sourceByField } from './common.ts';

const values = {
  sizeMm: z.tuple([positive(5000), positive(5000), positive(5000)]).meta({ description: 'Inside of the build chamber along x, y, z' }),
  wallMarginMm: z.number().min(0).max(500).meta({ description: 'Kept free along the walls' }),
  partSpacingMm: z.number().min(0).max(500).meta({ description: 'Kept free between parts' }),
  layerMm: z.number().min(0.01).max(1).meta({ description: 'Layer thickness' }),
  recoatS: z.number().min(0).max(600).meta({ description: 'Time to spread one layer of powder' }),
  minLayerS: z.number().min(0).max(3600).meta({ description: 'A layer takes at least this long, recoating included' }),
  scanSpeedMmS: positive(1e6).meta({ description: 'Laser speed on hatch lines' }),
  contourSpeedMmS: positive(1e6).meta({ description: 'Laser speed on contours' }),
  hatchMm: positive(10).meta({ description: 'Distance between hatch lines' }),
  warmUpHours: z.number().min(0).max(100).meta({ description: 'Before the first layer' }),
  coverMm: z.number().min(0).max(500).meta({ description: 'Powder below and above the parts' }),
  coolDownHoursPerBuildHour: z.number().min(0).max(10).meta({ description: 'Cool-down over the time from first to last layer' }),
  hourlyRate: money.meta({ description: 'Of the chamber in use' }),
  setUpHours: z.number().min(0).max(100).meta({ description: 'Work before and after a build, charged at the hourly rate' }),
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
