import { type Relaxation, relaxationOf } from './impact/index.ts';

/** What mechanics reads of a material record; null or absent: not known. */
export interface MechanicalMaterial {
  readonly densityGCm3: number;
  /** Storage modulus at referenceHz. */
  readonly modulusMPa: number;
  readonly referenceHz: number;
  readonly poisson: number;
  readonly lossFactor?: number | null;
  readonly relaxation?: readonly RelaxationTerm[] | null;
  readonly quasiStaticModulusMPa: number | null;
  readonly temperatureC?: number | null;
  readonly byTemperature?: readonly Row[] | null;
}

/** Either ratio (modulus of the branch over the long-term one) or modulusMPa, the same in all terms. */
interface RelaxationTerm {
  readonly timeS: number;
  readonly ratio?: number;
  readonly modulusMPa?: number;
}
interface Row {
  readonly temperatureC: number;
  readonly modulusMPa: number;
  readonly lossFactor?: number;
}

/** A material at one temperature. */
export interface MaterialAt {
  readonly kind: 'material';
  /** null: the record does not say which temperature its values hold for. */
  readonly temperatureC: number | null;
  readonly modulusMPa: number;
  readonly referenceHz: number;
  readonly lossFactor: number | null;
  readonly relaxation: Relaxation;
  /** How far tan delta strays from the loss factor between 3 and 300 Hz, percent. */
  readonly lossDeviationPct: number;
  /** Modulus of slow loading: the material's own, else the long-term one. */
  readonly quasiStaticMPa: number;
}
export type MaterialAtOutcome = MaterialAt | { readonly kind: 'refused'; readonly code: string; readonly message: string };

/**
 * The moduli of a material at a temperature of its table (between rows log(modulus) and the loss factor run straight), or as they stand when
 * none is asked for. A quasi-static modulus follows the storage modulus. Refused: what `relaxationOf` refuses.
 */
export function materialAt(material: MechanicalMaterial, askedC: number | undefined): MaterialAtOutcome {
  const { modulusMPa: standingMPa, referenceHz, quasiStaticModulusMPa: slow, temperatureC: ownC = null, byTemperature } = material;
  const row = byTemperature && askedC !== undefined ? between(byTemperature, askedC) : null;
  const modulusMPa = row?.modulusMPa ?? standingMPa;
  const lossFactor = row?.lossFactor ?? material.lossFactor ?? null;
  const relaxation = material.relaxation ? sharesOf(material.relaxation, modulusMPa, referenceHz) : null;
  const found = relaxationOf({ modulusMPa, referenceHz, lossFactor: lossFactor ?? 0, relaxation });
  if (found.kind === 'refused') return found;
  return {
    kind: 'material',
    temperatureC: row ? askedC! : ownC,
    ...{ modulusMPa, referenceHz, lossFactor, relaxation: found.relaxation, lossDeviationPct: found.deviationPct },
    quasiStaticMPa: slow === null ? found.relaxation.longTermMPa : (slow * modulusMPa) / standingMPa,
  };
}

function between(rows: readonly Row[], atC: number): Omit<Row, 'temperatureC'> {
  const above = Math.max(
    1,
    rows.findIndex(({ temperatureC }) => temperatureC >= atC),
  );
  const [cold, warm] = [rows[above - 1], rows[above]];
  const t = (atC - cold.temperatureC) / (warm.temperatureC - cold.temperatureC);
  const modulusMPa = cold.modulusMPa ** (1 - t) * warm.modulusMPa ** t;
  const known = cold.lossFactor !== undefined && warm.lossFactor !== undefined;
  return { modulusMPa, lossFactor: known ? (1 - t) * cold.lossFactor! + t * warm.lossFactor! : undefined };
}

/** Terms as shares of the instantaneous modulus: ratio / (1 + sum of ratios); in MPa they leave the long-term modulus what the storage modulus has beyond them. */
function sharesOf(terms: readonly RelaxationTerm[], modulusMPa: number, hz: number) {
  const storage = ({ timeS, modulusMPa: E = 0 }: RelaxationTerm) => {
    const x = 2 * Math.PI * hz * timeS;
    return (E * x * x) / (1 + x * x);
  };
  const longTermMPa = modulusMPa - terms.reduce((sum, term) => sum + storage(term), 0);
  const ratios = terms.map(({ ratio, modulusMPa: E = 0 }) => ratio ?? E / longTermMPa);
  const whole = ratios.reduce((sum, ratio) => sum + ratio, 1);
  return terms.map(({ timeS }, k) => ({ timeS, share: ratios[k] / whole }));
}
