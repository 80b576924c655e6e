import type { LayerProfile } from '../solid/index.ts';
import type { BuildLayers } from './build-layers.ts';
import type { BuildEstimate, Money, PrintFault } from './types.ts';

/** Copies of one version wanted in a tray. */
export interface TrayPart {
  readonly id: string;
  /** What tells it from the others once it is out of the powder: no two of a tray may be the same. */
  readonly markedName: string;
  readonly count: number;
  /** Diameter of the circumscribed sphere as designed. */
  readonly outsideDiameterMm: number;
  readonly massG: number;
  readonly profile: LayerProfile;
}

export interface TrayPlacement {
  id: string;
  markedName: string;
  /** Centre of the part's sphere from the chamber's lower corner. */
  centreMm: [number, number, number];
  /** Diameter of that sphere, shrinkage compensation included. */
  diameterMm: number;
}

export interface TrayPartResult {
  id: string;
  markedName: string;
  count: number;
  placed: number;
  /** Copies that found no place. */
  left: number;
  /** Of one copy as built, shrinkage compensation included. */
  sinteredVolumeMm3: number;
  /** null: no copy was placed. */
  totalPerPart: Money | null;
}

export interface TrayCost {
  powderKgPerBuild: number;
  virginPowderKgPerBuild: number;
  powderCost: Money;
  machineCost: Money;
  total: Money;
  assumptions: string[];
}

export interface TrayPlan {
  /** true: every copy found a place. */
  fits: boolean;
  parts: TrayPartResult[];
  placements: TrayPlacement[];
  /** Smallest gap between two parts' spheres, measured on the placements; null for fewer than two. */
  leastGapMm: number | null;
  build: BuildEstimate;
  /** null: nothing was placed. */
  cost: TrayCost | null;
}

/** The layers of a tray from the bottom of the bed to the top of the cover, and what each takes. */
export interface TrayLayers extends BuildLayers {
  readonly seconds: Float64Array;
}

export type TrayOutcome =
  | { readonly kind: 'done'; readonly tray: TrayPlan; readonly layers: TrayLayers }
  | { readonly kind: 'fault'; readonly fault: PrintFault };
