import type { ParameterSet } from '../../openapi/index.ts';

/** What an evaluated parameter set came to. */
export interface Trial {
  set: ParameterSet;
  massG: number;
  circumferenceMm: number;
}

/** Mass is to hit its aim; the circumference is left alone where it is within its band, else it is led to the band's middle. */
export interface Wanted {
  massG: number;
  circumferenceMm: { min: number; max: number };
}

export interface Step {
  set: ParameterSet;
  /** Exponent p of the struts' diameter d in mass ~ D d^p. */
  exponent: number;
  /** 'law': p is that of slender struts; 'results': p is fitted through the last two trials. */
  exponentFrom: 'law' | 'results';
  /** New over old outside diameter D, and new over old strut diameters. */
  outsideFactor: number;
  strutFactor: number;
}

/** Struts alone weigh as their section, d^2; nodes shared by struts lower the exponent, so it is fitted as soon as there are two results. */
const SLENDER = 2;
/** Below this change of ln d a fitted exponent would be the noise of rounding. */
const LEAST_LOG_CHANGE = 0.01;
const ROUNDING_MM = 0.01;

/**
 * The next parameter set by scaling: the circumference goes with the outside diameter D, the mass with D d^p (the length of all struts goes with
 * D). Every strut keeps its proportion to the others. Lengths are rounded to 0.01 mm, depths kept.
 */
export function nextStep(trials: readonly Trial[], wanted: Wanted): Step {
  const last = trials.at(-1)!;
  const { min, max } = wanted.circumferenceMm;
  const sized = last.circumferenceMm >= min && last.circumferenceMm <= max;
  const outsideFactor = sized ? 1 : (min + max) / 2 / last.circumferenceMm;
  const fitted = fittedExponent(trials.at(-2), last);
  const exponent = fitted ?? SLENDER;
  const strutFactor = (wanted.massG / last.massG / outsideFactor) ** (1 / exponent);
  return {
    set: scaled(last.set, outsideFactor, strutFactor),
    exponent,
    exponentFrom: fitted === null ? 'law' : 'results',
    outsideFactor,
    strutFactor,
  };
}

/** p of mass ~ D d^p through two trials; null without two that differ enough in d. */
function fittedExponent(before: Trial | undefined, last: Trial): number | null {
  if (!before) return null;
  const logChange = Math.log(last.set.layers[0].strutDiameterMm / before.set.layers[0].strutDiameterMm);
  if (Math.abs(logChange) < LEAST_LOG_CHANGE) return null;
  const perLength = ({ massG, set }: Trial) => massG / set.carrier.outsideDiameterMm;
  return Math.log(perLength(last) / perLength(before)) / logChange;
}

function scaled(set: ParameterSet, outsideFactor: number, strutFactor: number): ParameterSet {
  const strut = (diameterMm: number) => rounded(diameterMm * strutFactor);
  const { pattern, strutDiameterMm } = set.links;
  return {
    ...set,
    carrier: { ...set.carrier, outsideDiameterMm: rounded(set.carrier.outsideDiameterMm * outsideFactor) },
    layers: set.layers.map((layer) => ({ ...layer, strutDiameterMm: strut(layer.strutDiameterMm) })),
    links: strutDiameterMm === undefined ? { pattern } : { pattern, strutDiameterMm: strut(strutDiameterMm) },
  };
}

const rounded = (mm: number) => Number((Math.round(mm / ROUNDING_MM) * ROUNDING_MM).toFixed(2));
