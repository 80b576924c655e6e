import type { Lattice } from '../lattice/index.ts';
import type { LayerProfile } from '../solid/index.ts';
import type { PowderEscape } from './escape.ts';
import { type GapOutcome, MOST_PLACES } from './gap.ts';
import type { MechanicsFindings } from './mechanics-findings.ts';
import type { Openings } from './opening.ts';
import type { BuildVolume, Place, PrintabilityCheck, PrintMaterial } from './types.ts';

/** Everything the checks look at. null: not known, and the checks that need it say so. */
export interface CheckInput {
  readonly lattice: Lattice;
  /** Diameter of the circumscribed sphere, mm. */
  readonly outsideDiameterMm: number;
  readonly material: PrintMaterial;
  readonly volume: BuildVolume;
  readonly gap: Extract<GapOutcome, { kind: 'clear' }>;
  readonly openings: Openings;
  readonly wayOut: PowderEscape;
  readonly profile: LayerProfile | null;
  /** Peak force of the object this one replaces, N. */
  readonly originalPeakForceN: number | null;
  /** What mechanics found; left out where none was computed. */
  readonly mechanics?: MechanicsFindings;
}

/** One check: everything it needs in, one finding out. */
export type Check = (input: CheckInput) => PrintabilityCheck;

/** A value computed to equal its limit may differ from it by rounding. */
const ROUNDING = 1e-9;
export const below = (value: number, limit: number): boolean => value < limit * (1 - ROUNDING);

/** A check whose data are missing; the message says which, and what to be careful about. */
export const notChecked = (id: string, unit: string, message: string, value: number | null = null): PrintabilityCheck => ({
  id,
  status: 'not-checked',
  value,
  limit: null,
  unit,
  message,
  where: [],
});

/** The places with the smallest values first, at most 50. */
export function worstFirst(found: readonly { readonly value: number; readonly place: Place }[]): Place[] {
  return [...found]
    .sort((a, b) => a.value - b.value)
    .slice(0, MOST_PLACES)
    .map(({ place }) => place);
}

/** The struts whose value is chosen, the smallest value first. */
export function worstStruts(lattice: Lattice, values: Float64Array, chosen: (value: number) => boolean): Place[] {
  const found: { value: number; place: Place }[] = [];
  values.forEach((value, strut) => {
    if (chosen(value)) found.push({ value, place: strutPlace(lattice, strut) });
  });
  return worstFirst(found);
}

/** A strut with its layer; a link has none. */
export function strutPlace({ layerCount, graph }: Lattice, strut: number): Place {
  const layer = graph.roles[strut];
  return layer < layerCount ? { kind: 'strut', index: strut, layer } : { kind: 'strut', index: strut };
}

export const least = (values: Float64Array): number => values.reduce((found, each) => Math.min(found, each), Infinity);
export const most = (values: Float64Array): number => values.reduce((found, each) => Math.max(found, each), -Infinity);
