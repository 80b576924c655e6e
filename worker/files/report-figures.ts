import type { Result } from '../../openapi/result.ts';
import { measured, shown } from './html.ts';

type Row = [name: string, text: string];
const asIs = (value: number | null | undefined) => measured(value, '');

/** What the part is and does, a line for each, only of what was computed. */
export function figuresOf({ geometry, massProperties, balance, stiffness, vibration, rebound, life, motion }: Result): Row[] {
  const rows: Row[] = [
    ['nodes, struts, cells of a layer', [geometry.nodeCount, geometry.strutCount, geometry.cellCount].map(asIs).join(', ')],
    ['outside diameter, circumference', `${measured(geometry.outsideDiameterMm, 'mm')}, ${measured(geometry.circumferenceMm, 'mm')}`],
    ['volume, mass', `${measured(massProperties.volumeMm3, 'mm³')}, ${measured(massProperties.massG, 'g')}`],
    [
      'halves differ by',
      `${measured(balance.halfMassDifferencePct, '%')} across z = 0, ${measured(balance.largestHalfMassDifferencePct, '%')} at most`,
    ],
    ['centre of mass off by', measured(balance.centreOfMassOffsetMm, 'mm')],
  ];
  if (stiffness) {
    const { secantNPerMm, atDeflectionMm, peakStrainPct } = stiffness;
    const at = `${measured(secantNPerMm, 'N/mm')} at ${measured(atDeflectionMm, 'mm')}`;
    rows.push(['stiffness between plates', `${at}; strain up to ${measured(peakStrainPct, '%')}`]);
  }
  if (vibration) rows.push(['lowest natural frequencies', `${vibration.frequenciesHz.slice(0, 3).map(shown).join(', ')} Hz`]);
  if (rebound) rows.push(...reboundRows(rebound));
  if (life) {
    const { cyclesToFailure, cyclesBand } = life;
    rows.push(['bounces until the worst strut fails', `${shown(cyclesToFailure)} (${shown(cyclesBand.min)} to ${shown(cyclesBand.max)})`]);
  }
  if (motion) rows.push(...motionRows(motion));
  return rows;
}

function motionRows({ roll, spin }: NonNullable<Result['motion']>): Row[] {
  const rows: Row[] = [];
  if (roll)
    rows.push([
      'rolls off its straight line by',
      `${measured(roll.deviationMm?.mean, 'mm')} on the average, ${measured(roll.largestDeviationMm, 'mm')} at most of ${roll.starts} starts`,
    ]);
  if (spin) rows.push(['wobbles in the air by', `${measured(spin.wobbleDeg, '°')}; its middle by ${measured(spin.centreWobbleMm, 'mm')}`]);
  return rows;
}

function reboundRows({
  dropHeightMm,
  reboundHeightMm,
  peakForceN,
  contactTimeMs,
  peakStrainPct,
  energy,
}: NonNullable<Result['rebound']>): Row[] {
  const spread = reboundHeightMm ? ` (${shown(reboundHeightMm.min)} to ${shown(reboundHeightMm.max)} over the orientations)` : '';
  return [
    ['dropped from, comes back to', `${measured(dropHeightMm, 'mm')}, ${measured(reboundHeightMm?.mean, 'mm')}${spread}`],
    ['peak force, contact', `${measured(peakForceN, 'N')}, ${measured(contactTimeMs, 'ms')}`],
    ['peak strain in the bounce', measured(peakStrainPct, '%')],
    ['energy account off by', measured(energy.balanceErrorPct, '%')],
  ];
}

/** Its build and what it costs. */
export function makingOf({ build, cost }: Result): Row[] {
  const hours = `scan ${measured(build.scanHours, 'h')}, recoat ${measured(build.recoatHours, 'h')}, wait for short layers ${measured(build.waitHours, 'h')}, warm up ${measured(build.warmUpHours, 'h')}, cool down ${measured(build.coolDownHours, 'h')}`;
  const rows: Row[] = [
    ['parts in a build', `${build.partsPerBuild}: ${build.arrangement}`],
    ['time of a build', `${measured(build.totalHours, 'h')}: ${hours}`],
    ['packing density', measured(build.packingDensityPct, '%')],
  ];
  if (cost) {
    const { amount, currency } = cost.totalPerPart;
    rows.push(['cost of a part in a full build', `${amount.toFixed(2)} ${currency}`]);
    rows.push([
      'powder for a build',
      `${measured(cost.powderKgPerBuild, 'kg')}, of it virgin ${measured(cost.virginPowderKgPerBuild, 'kg')}`,
    ]);
  }
  return rows;
}
