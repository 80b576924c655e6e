import { z } from 'zod';
import { between, price, recordKey, sourceByField } from './common.ts';

const side = between(1, 5000);
const values = {
  sizeMm: z.tuple([side, side, side]).meta({ description: 'Inside of the build chamber along x, y, z' }),
  wallMarginMm: between(0, 500).meta({ description: 'Kept free along the walls' }),
  partSpacingMm: between(0, 500).meta({ description: 'Kept free between parts' }),
  layerMm: between(0.01, 1).meta({ description: 'Layer thickness' }),
  recoatS: between(0, 600).meta({ description: 'Time to spread one layer of powder' }),
  minLayerS: between(0, 3600).meta({ description: 'A layer takes at least this long, recoating included' }),
  scanSpeedMmS: between(1, 1e6).meta({ description: 'Laser speed on hatch lines' }),
  contourSpeedMmS: between(1, 1e6).meta({ description: 'Laser speed on contours' }),
  hatchMm: between(0.01, 10).meta({ description: 'Distance between hatch lines' }),
  warmUpHours: between(0, 100).meta({ description: 'Before the first layer' }),
  coverMm: between(0, 500).meta({ description: 'Powder below and above the parts' }),
  coolDownHoursPerBuildHour: between(0, 10).meta({ description: 'Cool-down over the time from first to last layer' }),
  hourlyRate: price.meta({ description: 'Of the chamber in use' }),
  setUpHours: between(0, 100).meta({ description: 'Work before and after a build, charged at the hourly rate' }),
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
