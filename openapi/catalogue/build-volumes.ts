import type { BuildVolume } from '../build-volume.ts';

const invented = 'an invented round value, of no particular machine';
const practice = 'common practice of powder-bed printing';
const memory = 'from memory';

const builtIn = { revision: 1, builtIn: true, wallMarginMm: 10, partSpacingMm: 5, layerMm: 0.1, hatchMm: 0.2, coverMm: 5 } as const;
const source = {
  sizeMm: invented,
  wallMarginMm: `${memory}: 5-10 mm`,
  partSpacingMm: `${practice}: 3-5 mm`,
  layerMm: `${practice}: 0.10-0.12 mm`,
  recoatS: `${invented}; 8-15 s is usual`,
  minLayerS: invented,
  scanSpeedMmS: `${invented}; 1500-12000 mm/s from memory`,
  contourSpeedMmS: invented,
  hatchMm: `${memory}: 0.15-0.3 mm`,
  warmUpHours: `${memory}: 1.5-3 h`,
  coverMm: 'a published figure of about 5 mm, read in an excerpt',
  coolDownHoursPerBuildHour: 'a published study, read in an excerpt: cooling takes about as long as the build',
  hourlyRate: invented,
  setUpHours: invented,
} as const;

/** Three chambers of common order. */
export const BUILD_VOLUMES: readonly BuildVolume[] = [
  {
    ...builtIn,
    key: 'small-polymer',
    sizeMm: [200, 200, 250],
    recoatS: 8,
    minLayerS: 10,
    scanSpeedMmS: 2500,
    contourSpeedMmS: 1500,
    warmUpHours: 1.5,
    coolDownHoursPerBuildHour: 1,
    hourlyRate: { amount: 12, currency: 'EUR' },
    setUpHours: 0.5,
    source,
  },
  {
    ...builtIn,
    key: 'medium-polymer',
    sizeMm: [300, 300, 400],
    recoatS: 10,
    minLayerS: 12,
    scanSpeedMmS: 4000,
    contourSpeedMmS: 2000,
    warmUpHours: 2,
    coolDownHoursPerBuildHour: 1,
    hourlyRate: { amount: 25, currency: 'EUR' },
    setUpHours: 0.5,
    source,
  },
  {
    ...builtIn,
    key: 'large-polymer',
    sizeMm: [600, 600, 500],
    recoatS: 14,
    minLayerS: 16,
    scanSpeedMmS: 6000,
    contourSpeedMmS: 3000,
    warmUpHours: 3,
    coolDownHoursPerBuildHour: 1,
    hourlyRate: { amount: 50, currency: 'EUR' },
    setUpHours: 1,
    source,
  },
];
