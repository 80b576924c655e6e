import type { Result } from '../../openapi/result.ts';
import { fixed } from './table.ts';

/** A quantity's name, its value as text, its unit. */
export type Row = [name: string, value: string, unit: string];

/** The numbers of a result by group, as they are shown to people. */
export function resultRows(result: Result): [title: string, rows: Row[]][] {
  return [
    ['Geometry', geometry(result)],
    ['Mass', mass(result)],
    ['Balance', balance(result)],
    ...mechanics(result),
    ['Build', build(result)],
    ['Cost of one part, at a full build', cost(result)],
  ];
}

function geometry({ geometry: g }: Result): Row[] {
  return [
    ['triangulation number', String(g.triangulationNumber), ''],
    ['nodes', String(g.nodeCount), ''],
    ['struts', String(g.strutCount), ''],
    ['pentagons and hexagons of a layer', `${g.pentagonCount} + ${g.hexagonCount}`, ''],
    ['outside diameter', fixed(g.outsideDiameterMm, 3), 'mm'],
    ['circumference', fixed(g.circumferenceMm, 2), 'mm'],
    ['strut length, least', fixed(g.strutLengthMm.min, 3), 'mm'],
    ['strut length, most', fixed(g.strutLengthMm.max, 3), 'mm'],
    ...g.cellOpeningMm.map((each): Row => [`least opening, layer ${each.layer}`, fixed(each.min, 3), 'mm']),
    ['edge uniformity', fixed(g.edgeUniformityPct, 3), '%'],
    ['struts across the split plane', String(g.strutsAcrossSplitPlane), ''],
  ];
}

function mass({ massProperties: m }: Result): Row[] {
  return [
    ['mass', fixed(m.massG, 3), 'g'],
    ['volume', fixed(m.volumeMm3, 1), 'mm3'],
    ['sum of cylinders', fixed(m.sumOfCylindersMassG, 3), 'g'],
    ['relative density', fixed(m.relativeDensityPct, 3), '%'],
    ['principal inertia, least', fixed(Math.min(...m.principalInertiaGMm2), 0), 'g mm2'],
    ['principal inertia, most', fixed(Math.max(...m.principalInertiaGMm2), 0), 'g mm2'],
  ];
}

function balance({ balance: b }: Result): Row[] {
  return [
    ['halves across z = 0 differ by', fixed(b.halfMassDifferencePct, 4), '%'],
    ['halves in any direction differ by', fixed(b.largestHalfMassDifferencePct, 4), '%'],
    ['centre of mass off centre', fixed(b.centreOfMassOffsetMm, 4), 'mm'],
    ['inertia spread', fixed(b.inertiaSpreadPct, 4), '%'],
    ['radial runout', fixed(b.radialRunoutMm, 4), 'mm'],
  ];
}

/** Groups that only a deeper evaluation has. */
function mechanics({ stiffness, vibration, rebound, life }: Result): [title: string, rows: Row[]][] {
  const groups: [string, Row[]][] = [];
  if (stiffness) groups.push(['Stiffness, between two plates', [...stiffnessRows(stiffness), ...frequencyRows(vibration)]]);
  if (rebound) groups.push([`Bounce, dropped from ${fixed(rebound.dropHeightMm, 0)} mm`, [...reboundRows(rebound), ...lifeRows(life)]]);
  return groups;
}

const stiffnessRows = (s: NonNullable<Result['stiffness']>): Row[] => [
  ['initial stiffness', fixed(s.initialNPerMm, 3), 'N/mm'],
  [`secant stiffness at ${fixed(s.atDeflectionMm, 1)} mm`, fixed(s.secantNPerMm, 3), 'N/mm'],
  ['peak strain at the end of the curve', fixed(s.peakStrainPct, 2), '%'],
  ['first buckling at', fixed(s.firstBuckling?.deflectionMm, 2), 'mm'],
  ['first touch of two struts at', fixed(s.firstContact?.deflectionMm, 2), 'mm'],
];

const frequencyRows = (vibration: Result['vibration']): Row[] =>
  vibration?.frequenciesHz.length ? [['lowest natural frequency', fixed(vibration.frequenciesHz[0], 1), 'Hz']] : [];

const reboundRows = (r: NonNullable<Result['rebound']>): Row[] => [
  ['rebound height, mean', fixed(r.reboundHeightMm?.mean, 0), 'mm'],
  ['rebound height, least', fixed(r.reboundHeightMm?.min, 0), 'mm'],
  ['rebound height, most', fixed(r.reboundHeightMm?.max, 0), 'mm'],
  ['restitution, mean', fixed(r.restitution?.mean, 3), ''],
  ['contact', fixed(r.contactTimeMs, 2), 'ms'],
  ['peak force', fixed(r.peakForceN, 1), 'N'],
  ['peak strain', fixed(r.peakStrainPct, 2), '%'],
  ['energy account misses by', fixed(r.energy.balanceErrorPct, 3), '%'],
];

const lifeRows = (life: Result['life']): Row[] => (life ? [['life, an estimate', life.cyclesToFailure.toPrecision(2), 'bounces']] : []);

function build({ build: b }: Result): Row[] {
  return [
    ['parts of a build', String(b.partsPerBuild), ''],
    ['height', fixed(b.heightMm, 1), 'mm'],
    ['layers', String(b.layerCount), ''],
    ['scanning', fixed(b.scanHours, 2), 'h'],
    ['recoating', fixed(b.recoatHours, 2), 'h'],
    ['waiting for short layers', fixed(b.waitHours, 2), 'h'],
    ['warm-up and cool-down', fixed(b.warmUpHours + b.coolDownHours, 2), 'h'],
    ['total', fixed(b.totalHours, 2), 'h'],
    ['packing density', fixed(b.packingDensityPct, 2), '%'],
  ];
}

function cost({ cost: c }: Result): Row[] {
  if (!c) return [['not one part fits the build volume', '-', '']];
  const row = (name: string, { amount, currency }: { amount: number; currency: string }): Row => [name, fixed(amount, 2), currency];
  return [row('powder', c.powderCostPerPart), row('machine', c.machineCostPerPart), row('total', c.totalPerPart)];
}
