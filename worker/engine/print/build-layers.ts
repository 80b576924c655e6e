import type { LayerProfile } from '../solid/index.ts';
import { shrinkageScale } from './chamber.ts';
import type { BuildVolume, PrintMaterial } from './types.ts';

/** Sintered area (mm2) and contour (mm) of every layer of a build, from the bottom of the bed to the top of the cover. */
export interface BuildLayers {
  readonly areaMm2: Float64Array;
  readonly contourMm: Float64Array;
  /** layerMm times the number of layers. */
  readonly heightMm: number;
}

/** Two centres are at one height when they differ by less than this, mm: far below any layer, far above rounding. */
const SAME_HEIGHT = 1e-6;

/** Parts of one shape in a build. */
export interface StandingParts {
  readonly profile: LayerProfile;
  /** Heights of the parts' origins above the bottom of the bed. */
  readonly heightsMm: Float64Array;
}

/**
 * Sums the profiles of all parts into the layers of the build. A part is scaled by 1 / (1 - shrinkage): its heights along z, its areas along
 * x and y, its contours by the geometric mean of x and y (exact where these are equal). A build layer takes the mean of the part within it,
 * so volumes are kept whatever the two layer thicknesses. Parts of one shape at one height are added at once. O(heights * layers of a part).
 */
export function buildLayers(
  parts: readonly StandingParts[],
  material: Pick<PrintMaterial, 'shrinkagePct'>,
  volume: Pick<BuildVolume, 'layerMm' | 'coverMm'>,
): BuildLayers {
  const scale = shrinkageScale(material);
  const topOf = ({ profile }: StandingParts) => (profile.zMinMm + profile.areaMm2.length * profile.layerMm) * scale[2];
  const levels = parts.flatMap((part) => levelsOf(part.heightsMm).map((level) => ({ ...part, ...level })));
  const top = levels.reduce((most, level) => Math.max(most, level.zMm + topOf(level)), -volume.coverMm) + volume.coverMm;
  // A height that is a whole number of layers must not gain one by rounding.
  const count = Math.max(0, Math.ceil(top / volume.layerMm - 1e-6));
  const layers = { areaMm2: new Float64Array(count), contourMm: new Float64Array(count), heightMm: count * volume.layerMm };
  for (const { profile, zMm, count: many } of levels) {
    const place = { zMm, scaleZ: scale[2], layerMm: volume.layerMm };
    addProfile(layers.areaMm2, profile.areaMm2, profile, place, many * scale[0] * scale[1]);
    addProfile(layers.contourMm, profile.contourMm, profile, place, many * Math.sqrt(scale[0] * scale[1]));
  }
  return layers;
}

/** The heights, rising, with the number of parts at each. */
function levelsOf(heightsMm: Float64Array): { zMm: number; count: number }[] {
  const levels: { zMm: number; count: number }[] = [];
  for (const z of heightsMm.slice().sort()) {
    const last = levels[levels.length - 1];
    if (last && z - last.zMm < SAME_HEIGHT) last.count++;
    else levels.push({ zMm: z, count: 1 });
  }
  return levels;
}

/** Adds `factor` times the mean of the profile's values within each build layer; place: height of the part's origin and scale along z. */
function addProfile(
  target: Float64Array,
  values: Float64Array,
  profile: LayerProfile,
  place: { zMm: number; scaleZ: number; layerMm: number },
  factor: number,
): void {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i] + values[i];
  // Build height -> place in the profile, in profile layers.
  const inProfile = (height: number) => ((height - place.zMm) / place.scaleZ - profile.zMinMm) / profile.layerMm;
  const sumTo = (at: number) => {
    if (at <= 0) return 0;
    if (at >= values.length) return sums[values.length];
    const whole = Math.floor(at);
    return sums[whole] + (at - whole) * values[whole];
  };
  const thickness = place.layerMm / (place.scaleZ * profile.layerMm);
  const first = Math.max(0, Math.floor((place.zMm + profile.zMinMm * place.scaleZ) / place.layerMm));
  let before = sumTo(inProfile(first * place.layerMm));
  for (let layer = first; layer < target.length && before < sums[values.length]; layer++) {
    const after = sumTo(inProfile((layer + 1) * place.layerMm));
    target[layer] += (factor * (after - before)) / thickness;
    before = after;
  }
}
