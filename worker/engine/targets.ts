/** A band for one quantity of a result; any of the three may be missing. */
export interface Target {
  readonly quantity: string;
  readonly min?: number;
  readonly target?: number;
  readonly max?: number;
}

export interface TargetFinding {
  quantity: string;
  target: number | null;
  min: number | null;
  max: number | null;
  value: number | null;
  within: boolean | null;
  missPct: number | null;
}

/** Short names of the contract and the dotted path of the number each stands for. */
export const SHORT_NAMES: Readonly<Record<string, string>> = {
  massG: 'massProperties.massG',
  outsideDiameterMm: 'geometry.outsideDiameterMm',
  circumferenceMm: 'geometry.circumferenceMm',
  stiffnessNPerMm: 'stiffness.secantNPerMm',
  reboundHeightMm: 'rebound.reboundHeightMm.mean',
  restitution: 'rebound.restitution.mean',
  peakForceN: 'rebound.peakForceN',
  totalPerPart: 'cost.totalPerPart.amount',
  volumeMm3: 'massProperties.volumeMm3',
  relativeDensityPct: 'massProperties.relativeDensityPct',
  centreOfMassOffsetMm: 'balance.centreOfMassOffsetMm',
  inertiaSpreadPct: 'balance.inertiaSpreadPct',
  strutCount: 'geometry.strutCount',
  initialNPerMm: 'stiffness.initialNPerMm',
  contactTimeMs: 'rebound.contactTimeMs',
  cyclesToFailure: 'life.cyclesToFailure',
  partsPerBuild: 'build.partsPerBuild',
  totalHours: 'build.totalHours',
  packingDensityPct: 'build.packingDensityPct',
  minCellOpeningMm: 'geometry.cellOpeningMm.min',
};

/**
 * Each target against the result: `value` null when the result holds no such number, `missPct` the distance outside the band over the target, or
 * over the band's middle, or its only limit; 0 inside. A target without limits is a band of no width.
 */
export function compareTargets(result: object, targets: readonly Target[]): TargetFinding[] {
  return targets.map((each) => {
    const value = numberAt(result, SHORT_NAMES[each.quantity] ?? each.quantity);
    const bare = each.min === undefined && each.max === undefined;
    const low = bare ? each.target! : (each.min ?? Number.NEGATIVE_INFINITY);
    const high = bare ? each.target! : (each.max ?? Number.POSITIVE_INFINITY);
    const finding = { quantity: each.quantity, target: each.target ?? null, min: each.min ?? null, max: each.max ?? null, value };
    if (value === null) return { ...finding, within: null, missPct: null };
    const outside = Math.max(0, low - value, value - high);
    const middle = each.target ?? (each.min !== undefined && each.max !== undefined ? (low + high) / 2 : (each.min ?? each.max!));
    return { ...finding, within: outside === 0, missPct: outside === 0 ? 0 : (100 * outside) / Math.abs(middle || 1) };
  });
}

/** The finite number at a dotted path; over a list of objects, the least of theirs. */
export function numberAt(from: unknown, path: string): number | null {
  let at: unknown = from;
  for (const key of path.split('.')) {
    if (Array.isArray(at) && !/^\d+$/.test(key)) {
      at = least(at.map((each) => (each as Record<string, unknown> | null)?.[key]));
    } else {
      if (at === null || typeof at !== 'object' || !Object.hasOwn(at, key)) return null;
      at = (at as Record<string, unknown>)[key];
    }
  }
  return typeof at === 'number' && Number.isFinite(at) ? at : null;
}

const least = (values: unknown[]): number | undefined => {
  const numbers = values.filter((value): value is number => typeof value === 'number');
  return numbers.length > 0 ? Math.min(...numbers) : undefined;
};
