import { builtDiameterMm, clearSizeMm } from './chamber.ts';
import { below, type Check, notChecked } from './check.ts';
import { largestJump } from './profile-figures.ts';
import { shown } from './sentence.ts';

/** Sphere of the part with shrinkage compensation against the room between the chamber's margins. */
export const fitsBuildVolume: Check = ({ outsideDiameterMm, material, volume }) => {
  const room = clearSizeMm(volume);
  const value = builtDiameterMm(outsideDiameterMm, material);
  const limit = Math.min(...room);
  const axis = 'xyz'[room.indexOf(limit)];
  const fits = !below(limit, value);
  const left = fits ? `${shown(limit - value)} mm are left along ${axis}` : `it is ${shown(value - limit)} mm too large along ${axis}`;
  const message = `With shrinkage compensation the part's sphere is ${shown(value)} mm; the chamber has ${room.map(shown).join(' x ')} mm between its margins: ${left}.`;
  return { id: 'fits-build-volume', status: fits ? 'pass' : 'fail', value, limit, unit: 'mm', message, where: [] };
};

/** Largest growth of the sintered area from one layer to the next: fresh melt over loose powder curls. Shown, not judged. */
export const layerAreaJump: Check = ({ profile }) => {
  const id = 'layer-area-jump';
  if (profile === null)
    return notChecked(id, 'mm2', 'No slices were made, so sudden growth of the sintered area (curl) was not looked for.');
  const { jumpMm2: jump, layer } = largestJump(profile);
  const message = `The section of one part grows by at most ${shown(jump)} mm2 from one layer to the next (layer ${layer}); no limit for curling is known, so this is not judged.`;
  return { ...notChecked(id, 'mm2', message, jump), where: [{ kind: 'layer', index: layer }] };
};

/** Strength and modulus by direction: records give at most the modulus, which is shown; strength is not judged. */
export const orientationEffect: Check = ({ material: { directionFactors } }) => {
  const strength = 'sintered polymers stretch much less across the layers (250 % against 90 % for one TPU, read in a copy)';
  if (!directionFactors)
    return notChecked('orientation-effect', 'percent', `The material gives one modulus for all directions; ${strength}.`);
  const { upright, inLayer } = directionFactors;
  const value = (100 * Math.abs(upright - inLayer)) / Math.max(upright, inLayer);
  const softer = upright < inLayer ? 'along the build axis' : 'in the layer';
  const message = `By the material's factors struts ${softer} are softer by ${shown(value)} %, which mechanics counts; strength by direction is not known, and ${strength}.`;
  return notChecked('orientation-effect', 'percent', message, value);
};
