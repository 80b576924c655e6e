import { below, type Check, type CheckInput, least, notChecked, strutPlace, worstStruts } from './check.ts';
import { MOST_PLACES } from './gap.ts';
import { PRACTICE } from './practice.ts';
import { shown } from './sentence.ts';
import type { Place } from './types.ts';

/** Thinnest strut against the material's least; a strut counts with its thinner end. */
export const minStrutDiameter: Check = ({ lattice, material }) => {
  const { diameters, strutCount } = lattice.graph;
  const thinner = Float64Array.from({ length: strutCount }, (_, k) => Math.min(diameters[2 * k], diameters[2 * k + 1]));
  const value = least(thinner);
  const check = { id: 'min-strut-diameter', value, unit: 'mm' };
  if (material.minStrutMm === null) {
    return notChecked(
      check.id,
      check.unit,
      `The material gives no least strut; the thinnest is ${shown(value)} mm. Print a sample first.`,
      value,
    );
  }
  return {
    ...check,
    ...againstLimit('The thinnest strut is', value, material.minStrutMm, PRACTICE.advisedStrut, (limit) =>
      worstStruts(lattice, thinner, (d) => below(d, limit)),
    ),
  };
};

/** Smallest gap between struts that share no node against the material's least. */
export const minGap: Check = ({ lattice, material, gap }) => {
  const check = { id: 'min-gap', unit: 'mm', limit: material.minGapMm };
  if (gap.smallest === null)
    return { ...check, status: 'pass', value: null, message: 'All struts share nodes, so there is no gap.', where: [] };
  const { a, b, gapMm: value } = gap.smallest;
  const sentence = `Struts ${a} and ${b}, which do not meet, come within ${shown(value)} mm`;
  if (material.minGapMm === null)
    return notChecked(check.id, check.unit, `${sentence}; the material gives no least gap, so they may sinter together.`, value);
  const fail = below(value, material.minGapMm);
  const message = `${sentence}; the material needs at least ${shown(material.minGapMm)} mm.`;
  const struts = new Set(gap.close.flatMap((pair) => [pair.a, pair.b]));
  const where = [...struts].slice(0, MOST_PLACES).map((strut) => strutPlace(lattice, strut));
  return { ...check, status: fail ? 'fail' : 'pass', value, message, where: fail ? where : [] };
};

/** Narrowest passage on the widest way out of any inner space against the material's least opening. */
export const escapeOpening: Check = ({ material, wayOut }: CheckInput) => {
  const value = wayOut.leastMm;
  const check = { id: 'escape-opening', value, unit: 'mm' };
  const sentence = "The narrowest opening on the powder's easiest way out is";
  if (material.minOpeningMm === null) {
    return notChecked(
      check.id,
      check.unit,
      `${sentence} ${shown(value)} mm; the material gives no least opening. Try the removal on a sample.`,
      value,
    );
  }
  return {
    ...check,
    ...againstLimit(sentence, value, material.minOpeningMm, PRACTICE.advisedOpening, (limit) => wayOut.places(limit).slice(0, MOST_PLACES)),
  };
};

/** fail below the limit, warn below what is advised, else pass; `places` lists what lies below a given size. */
function againstLimit(
  sentence: string,
  value: number,
  limit: number,
  advice: { readonly factor: number; readonly source: string },
  places: (limit: number) => Place[],
) {
  const advised = limit * advice.factor;
  const measured = `${sentence} ${shown(value)} mm; the material needs at least ${shown(limit)} mm`;
  if (below(value, limit)) return { status: 'fail' as const, limit, message: `${measured}.`, where: places(limit) };
  if (!below(value, advised)) return { status: 'pass' as const, limit, message: `${measured}.`, where: [] };
  return {
    status: 'warn' as const,
    limit,
    message: `${measured}, and ${shown(advised)} mm are advised (${advice.source}).`,
    where: places(advised),
  };
}
