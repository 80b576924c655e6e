import { type Lattice, membersOf } from '../lattice/index.ts';
import { below, type Check, least, most, worstFirst, worstStruts } from './check.ts';
import { joints } from './joints.ts';
import { PRACTICE } from './practice.ts';
import { shown } from './sentence.ts';

/** Length over diameter of every member, node to node over its thickest place, against what is too stubby and too slender. */
export const strutSlenderness: Check = ({ lattice }) => {
  const ratio = slenderness(lattice);
  const [shortest, longest] = [least(ratio), most(ratio)];
  const check = { id: 'strut-slenderness', unit: 'length/diameter' };
  const { ratio: low, source } = PRACTICE.leastSlenderness;
  const { ratio: high, source: highSource } = PRACTICE.mostSlenderness;
  if (below(shortest, low)) {
    const message = `The stubbiest strut is ${shown(shortest)} diameters long; below ${low} the joints dominate, and every strut model is uncertain (${source}).`;
    return {
      ...check,
      status: 'warn',
      value: shortest,
      limit: low,
      message,
      where: worstStruts(lattice, ratio, (each) => below(each, low)),
    };
  }
  if (below(high, longest)) {
    const message = `The most slender strut is ${shown(longest)} diameters long; above ${high} struts are easily bent in cleaning (${highSource}).`;
    const where = worstStruts(
      lattice,
      ratio.map((each) => -each),
      (each) => below(high, -each),
    );
    return { ...check, status: 'warn', value: longest, limit: high, message, where };
  }
  const message = `Struts are ${shown(shortest)} to ${shown(longest)} diameters long, between ${low} and ${high}.`;
  return { ...check, status: 'pass', value: shortest, limit: low, message, where: [] };
};

/** Per strut the ratio of the member it is part of. */
function slenderness(lattice: Lattice): Float64Array {
  const { lengthMm, diameterMm, ofStrut } = membersOf(lattice);
  return Float64Array.from(ofStrut, (member) => lengthMm[member] / diameterMm[member]);
}

/** Smallest angle between struts that meet, and struts whose two joint zones overlap, so that nothing of the strut stands free. */
export const jointCrowding: Check = ({ lattice }) => {
  const { angleDeg, freeMm } = joints(lattice.graph);
  const { degrees: limit, source } = PRACTICE.leastAngle;
  const value = least(angleDeg);
  const merged = worstStruts(lattice, freeMm, (free) => free <= 0);
  const mergedCount = freeMm.reduce((count, free) => count + (free <= 0 ? 1 : 0), 0);
  const sharp = [...angleDeg].flatMap((angle, node) =>
    below(angle, limit) ? [{ value: angle, place: { kind: 'node' as const, index: node } }] : [],
  );
  const angles = `Struts meet at ${shown(value)} degrees or more (advised: at least ${limit}, ${source})`;
  const zones =
    mergedCount === 0
      ? 'joint zones nowhere meet along a strut'
      : `the joint zones of ${mergedCount} struts meet, so that no part of them stands free`;
  return {
    id: 'joint-crowding',
    status: sharp.length > 0 || mergedCount > 0 ? 'warn' : 'pass',
    value,
    limit,
    unit: 'degrees',
    message: `${angles}; ${zones}.`,
    where: [...worstFirst(sharp), ...merged].slice(0, 50),
  };
};
