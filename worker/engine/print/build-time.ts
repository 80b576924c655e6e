import type { LayerProfile } from '../solid/index.ts';
import type { Arrangement } from './arrange.ts';
import { type BuildLayers, buildLayers } from './build-layers.ts';
import { shown } from './sentence.ts';
import type { BuildEstimate, BuildVolume, PrintMaterial } from './types.ts';

const SECONDS_PER_HOUR = 3600;

/**
 * Time and height of a build. Each layer takes max(minLayerS, recoatS + contour / contourSpeed + area / (hatch * scanSpeed)); what a short
 * layer waits for the minimum is counted apart. Total = warm-up + layers + cool-down, cool-down in proportion to the layers' hours.
 * Form of the model: Gibson, Rosen and Stucker, Additive Manufacturing Technologies, chapter on direct digital manufacturing (read in a
 * copy). An empty arrangement gives zeros and `fits: false`.
 */
export function buildTime(profile: LayerProfile, arrangement: Arrangement, material: PrintMaterial, volume: BuildVolume): BuildEstimate {
  const layers = buildLayers(profile, arrangement, material, volume);
  const { scanS, recoatS, waitS } = layerSeconds(layers, volume);
  const buildHours = (scanS + recoatS + waitS) / SECONDS_PER_HOUR;
  const fits = arrangement.count > 0;
  const warmUpHours = fits ? volume.warmUpHours : 0;
  const coolDownHours = buildHours * volume.coolDownHoursPerBuildHour;
  return {
    fits,
    partsPerBuild: arrangement.count,
    arrangement: arrangement.name,
    heightMm: layers.heightMm,
    layerCount: layers.areaMm2.length,
    scanHours: scanS / SECONDS_PER_HOUR,
    recoatHours: recoatS / SECONDS_PER_HOUR,
    waitHours: waitS / SECONDS_PER_HOUR,
    warmUpHours,
    coolDownHours,
    totalHours: warmUpHours + buildHours + coolDownHours,
    packingDensityPct: packingDensityPct(layers, volume),
    assumptions: assumptions(arrangement, volume),
  };
}

function layerSeconds({ areaMm2, contourMm }: BuildLayers, volume: BuildVolume) {
  const sum = { scanS: 0, recoatS: volume.recoatS * areaMm2.length, waitS: 0 };
  for (let layer = 0; layer < areaMm2.length; layer++) {
    const scanS = contourMm[layer] / volume.contourSpeedMmS + areaMm2[layer] / (volume.hatchMm * volume.scanSpeedMmS);
    sum.scanS += scanS;
    sum.waitS += Math.max(0, volume.minLayerS - volume.recoatS - scanS);
  }
  return sum;
}

/** Volume of the scaled parts over that of the part cake, which fills the whole chamber up to the cover. */
function packingDensityPct({ areaMm2, heightMm }: BuildLayers, { sizeMm, layerMm }: BuildVolume): number {
  if (heightMm === 0) return 0;
  return (100 * areaMm2.reduce((sum, area) => sum + area * layerMm, 0)) / (sizeMm[0] * sizeMm[1] * heightMm);
}

function assumptions({ partDiameterMm, spacingMm, capped }: Arrangement, volume: BuildVolume): string[] {
  const sentences = [
    `Every part stands as a sphere of ${shown(partDiameterMm)} mm, its circumscribed sphere with shrinkage compensation, at least ${shown(spacingMm)} mm from the next.`,
    `Parts keep ${shown(volume.wallMarginMm)} mm from the side walls and have ${shown(volume.coverMm)} mm of powder below and above them.`,
    'One scanner melts the full section of every layer and one contour; jumps between struts and between parts take no time.',
    'Empty layers take the recoating time, or the layer minimum where that is longer.',
    `Parts cool in the chamber, ${shown(volume.coolDownHoursPerBuildHour)} times as long as the layers take.`,
    'Packing density compares the scaled parts with the part cake over the whole platform.',
  ];
  if (capped) sentences.push('The chamber holds more parts of this size; only its lower part was planned.');
  return sentences;
}
