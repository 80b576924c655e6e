import { below, type Check, least, most, notChecked, strutPlace, worstFirst } from './check.ts';
import { PRACTICE } from './practice.ts';
import { shown } from './sentence.ts';
import type { Place } from './types.ts';

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

/**
 * The same openings in the most squeezed state that mechanics computed. Between the two states a cell runs through every size, so one that
 * closes from above the band to below it can hold a finger as well.
 */
export const fingerEntrapmentDeformed: Check = ({ openings, mechanics }) => {
  const check = { id: 'finger-entrapment-deformed', unit: 'mm' };
  const squeezed = mechanics?.squeezed;
  if (!squeezed)
    return notChecked(
      check.id,
      check.unit,
      `Cells change when the part is squeezed; without mechanics this was not computed. Take care: ${RULE}.`,
    );
  const found: { value: number; place: Place }[] = [];
  let nearest = 0;
  squeezed.cells.forEach((cells, layer) => {
    cells.forEach((opening, index) => {
      const [low, high] = [Math.min(opening, openings.cells[layer][index]), Math.max(opening, openings.cells[layer][index])];
      if (below(low, toMm) && !below(high, fromMm)) found.push({ value: opening, place: { kind: 'cell', index, layer } });
      else if (below(high, fromMm)) nearest = Math.max(nearest, high);
    });
  });
  const state = `squeezed by ${shown(squeezed.deflectionMm)} mm`;
  if (found.length > 0) {
    const value = Math.min(...found.map((each) => each.value));
    const message = `${found.length} cells lie in the band or run through it when the part is ${state}, the narrowest is then open by ${shown(value)} mm: ${RULE}.`;
    return { ...check, status: 'warn', value, limit: toMm, message, where: worstFirst(found) };
  }
  const closed = nearest > 0;
  const value = closed ? nearest : Math.min(...squeezed.cells.map(least));
  const message = `No cell lies in the band or runs through it when the part is ${state}; the nearest is open by ${shown(value)} mm: ${RULE}.`;
  return { ...check, status: 'pass', value, limit: closed ? fromMm : toMm, message, where: [] };
};

/** The whole part against the small-ball size; then whether struts may soon break off, each of them a small part. */
export const smallPart: Check = ({ lattice, outsideDiameterMm, mechanics }) => {
  const { diameterMm: limit, source: smallBall } = PRACTICE.smallBall;
  const id = 'small-part';
  if (below(outsideDiameterMm, limit)) {
    const message = `The part is ${shown(outsideDiameterMm)} mm across; below ${limit} mm it is a small ball, a choking hazard for children under three (${smallBall}).`;
    return { id, status: 'warn', value: outsideDiameterMm, limit, unit: 'mm', message, where: [] };
  }
  const life = mechanics?.life;
  if (!life)
    return notChecked(
      id,
      'cycles',
      'Whether struts can break off was not computed (no life estimate); a broken strut is a small part and a choking hazard.',
    );
  const { cycles: least, source } = PRACTICE.leastLife;
  const short = below(life.fromCycles, least);
  const drop = mechanics?.bounce ? ` from ${shown(mechanics.bounce.dropHeightMm)} mm` : '';
  const message = `One part in forty may lose a strut within ${shown(life.fromCycles)} bounces${drop}, harder throws count for more; an estimate that guarantees nothing. ${least} are asked for (${source}). A broken strut is a small part, a choking hazard, and its stub is sharp: inspect before each use.`;
  const where = short && life.strut !== null ? [strutPlace(lattice, life.strut)] : [];
  return { id, status: short ? 'warn' : 'pass', value: life.fromCycles, limit: least, unit: 'cycles', message, where };
};
