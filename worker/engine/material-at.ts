import { type Relaxation, relaxationOf, type Viscoelastic } from './impact/index.ts';

/** What mechanics reads of a material record; null or absent: not known. */
export interface MechanicalMaterial extends Viscoelastic {
  readonly densityGCm3: number;
  readonly poisson: number;
  readonly quasiStaticModulusMPa: number | null;
  readonly temperatureC?: number | null;
  readonly byTemperature?: readonly Row[] | null;
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
  const found = relaxationOf({ modulusMPa, referenceHz, lossFactor, relaxation: material.relaxation });
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
