import { below, type Check, type CheckInput, notChecked, strutPlace } from './check.ts';
import { shown } from './sentence.ts';
import type { Place } from './types.ts';

const CAUTION = 'A part harder than the original hurts more at the same mass.';

/** Peak force of the hardest bounce against that of the original: warn above it; without a figure the estimate is shown, never judged. */
export const peakForce: Check = ({ originalPeakForceN: limit, mechanics }) => {
  const check = { id: 'peak-force', unit: 'N' };
  const bounce = mechanics?.bounce;
  if (!bounce) {
    const original = limit === null ? 'the original has no figure' : `the original has ${shown(limit)} N`;
    return notChecked(
      check.id,
      check.unit,
      `The peak force of an impact was not computed, and ${original}; a part harder than the original hurts more at the same mass.`,
    );
  }
  const value = bounce.peakForceN;
  const sentence = `Dropped from ${shown(bounce.dropHeightMm)} mm the part pushes with up to ${shown(value)} N`;
  if (limit === null) {
    const estimate = mechanics.estimatedOriginalPeakForceN;
    const about = estimate === null ? '' : `; a gas-filled one is estimated at ${shown(estimate)} N, which nobody measured`;
    return notChecked(
      check.id,
      check.unit,
      `${sentence}; the original has no figure${about}. ${CAUTION} Measure both at one speed.`,
      value,
    );
  }
  const harder = below(limit, value);
  const message = `${sentence}, the original with ${shown(limit)} N at the height it was measured from.${harder ? ` ${CAUTION}` : ''}`;
  return { ...check, status: harder ? 'warn' : 'pass', value, limit, message, where: [] };
};

/** Largest strain of any strut in a bounce against what the material bears: fail above it. */
export const bounceStrain: Check = ({ lattice, material, mechanics }) => {
  const check = { id: 'bounce-strain', unit: 'percent' };
  const bounce = mechanics?.bounce;
  const limit = material.maxStrainPct ?? null;
  if (!bounce)
    return notChecked(
      check.id,
      check.unit,
      'No bounce was computed, so it is not known how far struts are strained; one strained beyond what its material bears cracks or stays bent.',
    );
  const value = bounce.peakStrainPct;
  const sentence = `Dropped from ${shown(bounce.dropHeightMm)} mm the worst strut is strained by ${shown(value)} %`;
  if (limit === null)
    return notChecked(check.id, check.unit, `${sentence}; the material gives no largest strain. Test a part before it is used.`, value);
  const fail = below(limit, value);
  const where = fail ? placeOf(lattice, bounce.strut) : [];
  return {
    ...check,
    status: fail ? 'fail' : 'pass',
    value,
    limit,
    message: `${sentence}; the material bears ${shown(limit)} %.`,
    where,
  };
};

/**
 * Load at which the first strut buckles between plates, against the load the part must carry: the original's peak force, else that of the
 * bounce, else any within the squeeze. A buckled strut comes back, but feel and bounce change at once, so this warns.
 */
export const buckling: Check = ({ lattice, originalPeakForceN, mechanics }) => {
  const check = { id: 'buckling', unit: 'N' };
  const squeeze = mechanics?.buckling;
  const load = originalPeakForceN ?? mechanics?.bounce?.peakForceN ?? null;
  const whose = originalPeakForceN === null ? 'the peak force of the bounce' : "the original's peak force";
  if (!squeeze)
    return notChecked(check.id, check.unit, 'Whether struts buckle was not computed; where they do the part gives way suddenly.');
  if (squeeze.first) {
    const { forceN: value, deflectionMm, strut } = squeeze.first;
    const carried = load !== null && !below(value, load);
    const against = load === null ? '' : `, ${carried ? 'not below' : 'below'} ${whose} of ${shown(load)} N`;
    const message = `Between plates the first strut buckles at ${shown(deflectionMm)} mm and ${shown(value)} N${against}: from there on the part is softer.`;
    return { ...check, status: carried ? 'pass' : 'warn', value, limit: load, message, where: carried ? [] : placeOf(lattice, strut) };
  }
  const value = squeeze.toForceN;
  const sentence = `Between plates no strut buckles up to ${shown(squeeze.toDeflectionMm)} mm and ${shown(value)} N`;
  if (load !== null && below(value, load)) {
    const message = `${sentence}; ${whose} is ${shown(load)} N, and what happens between was not computed. Squeeze further.`;
    return notChecked(check.id, check.unit, message, value);
  }
  return { ...check, status: 'pass', value, limit: load, message: `${sentence}.`, where: [] };
};

const placeOf = (lattice: CheckInput['lattice'], strut: number | null): Place[] => (strut === null ? [] : [strutPlace(lattice, strut)]);
