/**
 * The numbers of a result that history filters and sorts on by an index, and the dotted path each is read from. The names are the contract's;
 * the same table names the short names a target may use. A column stays null where the path holds null.
 */
export const FILTERABLE = {
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
  'stiffness.peakStrainPct': 'stiffness.peakStrainPct',
  'rebound.peakStrainPct': 'rebound.peakStrainPct',
  cyclesToFailure: 'life.cyclesToFailure',
  partsPerBuild: 'build.partsPerBuild',
  totalHours: 'build.totalHours',
  packingDensityPct: 'build.packingDensityPct',
  minCellOpeningMm: 'geometry.cellOpeningMm.min',
} as const;
export type Quantity = keyof typeof FILTERABLE;
export const QUANTITIES = Object.keys(FILTERABLE) as Quantity[];
