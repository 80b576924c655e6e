export interface Money {
  amount: number;
  currency: string;
}

/** What this room reads of a material record; null: the record gives no such limit. */
export interface PrintMaterial {
  readonly bulkDensityGCm3: number;
  /** Refresh ratio: share of virgin powder in the blend. */
  readonly virginSharePct: number;
  readonly pricePerKg: Money;
  readonly minStrutMm: number | null;
  readonly minGapMm: number | null;
  readonly minOpeningMm: number | null;
  /** Factors on the modulus of struts along the build axis and in the layer; absent as null: not known. */
  readonly directionFactors?: { readonly upright: number; readonly inLayer: number } | null;
  /** Strain that a strut should not exceed; absent as null: not known. */
  readonly maxStrainPct?: number | null;
  /** Along x, y, z; a part is built larger by 1 / (1 - shrinkage). */
  readonly shrinkagePct: readonly [number, number, number];
}

/** What this room reads of a build-volume record. */
export interface BuildVolume {
  readonly sizeMm: readonly [number, number, number];
  readonly wallMarginMm: number;
  readonly partSpacingMm: number;
  readonly layerMm: number;
  readonly recoatS: number;
  readonly minLayerS: number;
  readonly scanSpeedMmS: number;
  readonly contourSpeedMmS: number;
  readonly hatchMm: number;
  readonly warmUpHours: number;
  readonly coverMm: number;
  readonly coolDownHoursPerBuildHour: number;
  readonly hourlyRate: Money;
  readonly setUpHours: number;
}

/** An expected failure: what a run that ends with it reports. */
export interface PrintFault {
  code: 'struts-intersect' | 'currency-mismatch' | 'refused-tray' | 'no-room-for-mark';
  message: string;
  details: Record<string, unknown>;
}

/** A place a check points at: indices into the graph (strut, node), into the cells of one layer, or into the build layers. */
export interface Place {
  kind: 'strut' | 'node' | 'cell' | 'layer';
  index: number;
  layer?: number;
}

export interface PrintabilityCheck {
  id: string;
  status: 'pass' | 'warn' | 'fail' | 'not-checked';
  value: number | null;
  limit: number | null;
  unit: string;
  message: string;
  where: Place[];
}

export interface Printability {
  verdict: 'pass' | 'warn' | 'fail';
  checks: PrintabilityCheck[];
}

export interface BuildEstimate {
  fits: boolean;
  partsPerBuild: number;
  arrangement: string;
  heightMm: number;
  layerCount: number;
  scanHours: number;
  recoatHours: number;
  waitHours: number;
  warmUpHours: number;
  coolDownHours: number;
  totalHours: number;
  packingDensityPct: number;
  assumptions: string[];
}

export interface CostEstimate {
  powderKgPerBuild: number;
  virginPowderKgPerBuild: number;
  powderCostPerPart: Money;
  machineCostPerPart: Money;
  totalPerPart: Money;
  assumptions: string[];
}
