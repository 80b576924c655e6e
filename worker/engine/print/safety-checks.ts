import { below, type Check, most, notChecked, worstFirst } from './check.ts';
import { PRACTICE } from './practice.ts';
import { shown } from './sentence.ts';

const { fromMm, toMm, source } = PRACTICE.fingers;
const RULE = `openings of ${fromMm} to ${toMm} mm can hold a finger (${source}; local codes decide)`;
const inBand = (opening: number) => !below(opening, fromMm) && below(opening, toMm);

/** Cells a finger can enter and not leave, in every layer a finger can reach; the lattice as designed, undeformed. */
export const fingerEntrapment: Check = ({ openings }) => {
  const check = { id: 'finger-entrapment', unit: 'mm' };
  // Behind a layer that no finger enters, nothing can be reached.
  const barrier = openings.cells.findIndex((cells) => below(most(cells), fromMm));
  const reached = barrier < 0 ? openings.cells : openings.cells.slice(0, barrier + 1);
  const found = reached.flatMap((cells, layer) =>
    [...cells].flatMap((opening, index) => (inBand(opening) ? [{ value: opening, place: { kind: 'cell' as const, index, layer } }] : [])),
  );
  if (found.length > 0) {
    const narrowest = Math.min(...found.map(({ value }) => value));
    const message = `${found.length} cells within reach are open by ${shown(narrowest)} mm or more, and less than ${toMm} mm: ${RULE}.`;
    return { ...check, status: 'warn', value: narrowest, limit: toMm, message, where: worstFirst(found) };
  }
  const wide = reached.flatMap((cells) => [...cells].filter((opening) => !below(opening, toMm)));
  const value = wide.length > 0 ? Math.min(...wide) : most(reached[0]);
  const message = `No cell within reach lies in the band, the nearest is open by ${shown(value)} mm: ${RULE}.`;
  return { ...check, status: 'pass', value, limit: wide.length > 0 ? toMm : fromMm, message, where: [] };
};

/** The same openings while the lattice is squeezed: needs mechanics. */
export const fingerEntrapmentDeformed: Check = () =>
  notChecked(
    'finger-entrapment-deformed',
    'mm',
    `Cells change when the part is squeezed; without mechanics this was not computed. Take care: ${RULE}.`,
  );

/** The whole part against the small-ball size; broken-off struts need a life estimate. */
export const smallPart: Check = ({ outsideDiameterMm }) => {
  const { diameterMm: limit, source: smallBall } = PRACTICE.smallBall;
  if (below(outsideDiameterMm, limit)) {
    const message = `The part is ${shown(outsideDiameterMm)} mm across; below ${limit} mm it is a small ball, a choking hazard for children under three (${smallBall}).`;
    return { id: 'small-part', status: 'warn', value: outsideDiameterMm, limit, unit: 'mm', message, where: [] };
  }
  return notChecked(
    'small-part',
    'mm',
    'Whether struts can break off was not computed (no life estimate); a broken strut is a small part and a choking hazard.',
  );
};

/** Peak force of an impact against that of the original: needs mechanics and a measured original. */
export const peakForce: Check = ({ originalPeakForceN }) => {
  const original = originalPeakForceN === null ? 'the original has no figure' : `the original has ${shown(originalPeakForceN)} N`;
  return notChecked(
    'peak-force',
    'N',
    `The peak force of an impact was not computed, and ${original}; a part harder than the original hurts more at the same mass.`,
  );
};
