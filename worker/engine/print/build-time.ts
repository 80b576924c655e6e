import type { LayerProfile } from '../solid/index.ts';
import type { Arrangement } from './arrange.ts';
import { type BuildLayers, buildLayers, type StandingParts } from './build-layers.ts';
import { shown } from './sentence.ts';
import type { BuildEstimate, BuildVolume, PrintMaterial } from './types.ts';

const SECONDS_PER_HOUR = 3600;

/** A full build of equal parts; see `timeOf`. An empty arrangement gives zeros and `fits: false`. */
export function buildTime(profile: LayerProfile, arrangement: Arrangement, material: PrintMaterial, volume: BuildVolume): BuildEstimate {
  const { centresMm, partDiameterMm, spacingMm, capped } = arrangement;
  const parts = [{ profile, heightsMm: centresMm.filter((_, i) => i % 3 === 2) }];
  const sphere = `Every part stands as a sphere of ${shown(partDiameterMm)} mm, its circumscribed sphere with shrinkage compensation, at least ${shown(spacingMm)} mm from the next.`;
  const lowerPart = capped ? ['The chamber holds more parts of this size; only its lower part was planned.'] : [];
  const estimate = timeOf(parts, arrangement.name, material, volume);
  return { ...estimate, assumptions: [sphere, ...estimate.assumptions, ...lowerPart] };
}

/**
 * Time and height of a build. Each layer takes max(minLayerS, recoatS + contour / contourSpeed + area / (hatch * scanSpeed)); what a short
 * layer waits for the minimum is counted apart. Total = warm-up + layers + cool-down, cool-down in proportion to the layers' hours.
 * Form of the model: Gibson, Rosen and Stucker, Additive Manufacturing Technologies, chapter on direct digital manufacturing (read in a
 * copy). No parts give zeros and `fits: false`.
 */
export const timeOf = (parts: readonly StandingParts[], arrangement: string, material: PrintMaterial, volume: BuildVolume): BuildEstimate =>
  timeOfLayers(buildLayers(parts, material, volume), { partsPerBuild: countOf(parts), arrangement }, volume);

export const countOf = (parts: readonly StandingParts[]): number => parts.reduce((sum, { heightsMm }) => sum + heightsMm.length, 0);

/** The same of layers that are known. */
export function timeOfLayers(
  layers: BuildLayers,
  { partsPerBuild, arrangement }: Pick<BuildEstimate, 'partsPerBuild' | 'arrangement'>,
  volume: BuildVolume,
): BuildEstimate {
  const { scanS, recoatS, waitS } = layerSeconds(layers, volume);
  const buildHours = (scanS + recoatS + waitS) / SECONDS_PER_HOUR;
  const warmUpHours = partsPerBuild > 0 ? volume.warmUpHours : 0;
  const coolDownHours = buildHours * volume.coolDownHoursPerBuildHour;
  return {
    fits: partsPerBuild > 0,
    partsPerBuild,
    arrangement,
    heightMm: layers.heightMm,
    layerCount: layers.areaMm2.length,
    scanHours: scanS / SECONDS_PER_HOUR,
    recoatHours: recoatS / SECONDS_PER_HOUR,
    waitHours: waitS / SECONDS_PER_HOUR,
    warmUpHours,
    coolDownHours,
    totalHours: warmUpHours + buildHours + coolDownHours,
    packingDensityPct: packingDensityPct(layers, volume),
    assumptions: assumptions(volume),
  };
}

function layerSeconds(layers: BuildLayers, volume: BuildVolume) {
  const count = layers.areaMm2.length;
  const sum = { scanS: 0, recoatS: volume.recoatS * count, waitS: 0 };
  for (let layer = 0; layer < count; layer++) {
    const scanS = scanSeconds(layers, layer, volume);
    sum.scanS += scanS;
    sum.waitS += Math.max(0, volume.minLayerS - volume.recoatS - scanS);
  }
  return sum;
}

const scanSeconds = ({ areaMm2, contourMm }: BuildLayers, layer: number, { contourSpeedMmS, hatchMm, scanSpeedMmS }: BuildVolume): number =>
  contourMm[layer] / contourSpeedMmS + areaMm2[layer] / (hatchMm * scanSpeedMmS);

/** What each layer takes, recoating and waiting included. */
export const secondsByLayer = (layers: BuildLayers, volume: BuildVolume): Float64Array =>
  layers.areaMm2.map((_, layer) => Math.max(volume.minLayerS, volume.recoatS + scanSeconds(layers, layer, volume)));

/** Volume of the scaled parts over that of the part cake, which fills the whole chamber up to the cover. */
function packingDensityPct({ areaMm2, heightMm }: BuildLayers, { sizeMm, layerMm }: BuildVolume): number {
  if (heightMm === 0) return 0;
  return (100 * areaMm2.reduce((sum, area) => sum + area * layerMm, 0)) / (sizeMm[0] * sizeMm[1] * heightMm);
}

const assumptions = (volume: BuildVolume): string[] => [
  `Parts keep ${shown(volume.wallMarginMm)} mm from the side walls and have ${shown(volume.coverMm)} mm of powder below and above them.`,
  'One scanner melts the full section of every layer and one contour; jumps between struts and between parts take no time.',
  'Empty layers take the recoating time, or the layer minimum where that is longer.',
  `Parts cool in the chamber, ${shown(volume.coolDownHoursPerBuildHour)} times as long as the layers take.`,
  'Packing density compares the scaled parts with the part cake over the whole platform.',
];
