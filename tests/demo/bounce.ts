import type { Reference, Result } from '../../openapi/index.ts';
import { INVENTED, READINGS, wanted } from './brief.ts';
import type { Finished } from './comparison.ts';
import { fixed, table, wrap } from './text.ts';

/** The bounce of the lattice beside that of the ball it replaces: what was computed, what was measured, and what is an estimate only. */
export function bounceTable({ result }: Finished, measured: Reference): string[] {
  const { rebound, stiffness } = result;
  if (!rebound?.reboundHeightMm || !rebound.restitution) throw new Error('The full evaluation left out the rebound');
  const { estimates } = measured;
  const [aim, pressed] = wanted(measured, 'reboundHeightMm', 'stiffnessNPerMm');
  const range = ({ min, max }: { min: number; max: number }, decimals: number) => `${fixed(min, decimals)} to ${fixed(max, decimals)}`;
  const height = Math.sqrt((aim?.target ?? Number.NaN) / rebound.dropHeightMm);
  const estimate = (value: number | undefined, decimals: number) => (value === undefined ? '-' : `${fixed(value, decimals)} (estimate)`);
  return table([
    [`dropped from ${fixed(rebound.dropHeightMm, 0)} mm`, 'lattice, computed', 'original'],
    ['rebound, mean, mm', fixed(rebound.reboundHeightMm.mean, 0), `${fixed(aim?.target ?? Number.NaN, 0)} (measured)`],
    ['rebound, by orientation or drop, mm', range(rebound.reboundHeightMm, 0), range({ min: aim?.min ?? 0, max: aim?.max ?? 0 }, 0)],
    ['restitution', fixed(rebound.restitution.mean, 3), `${fixed(height, 3)} (measured)`],
    ['contact, ms', fixed(rebound.contactTimeMs, 1), estimate(estimates?.contactTimeMs.value, 1)],
    ['peak force, N', fixed(rebound.peakForceN, 0), estimate(estimates?.peakForceN?.value, 0)],
    [
      'stiffness, N/mm',
      stiffness?.secantNPerMm ? fixed(stiffness.secantNPerMm, 2) : '-',
      `${fixed(pressed?.target ?? Number.NaN, 2)} (measured)`,
    ],
  ]);
}

/** What the table does not say. */
export function bounceInWords({ result }: Finished): string[] {
  const { rebound, life, material } = result;
  const judged = result.targets.find(({ quantity }) => quantity === 'reboundHeightMm');
  const verdict = judged?.within ? 'meets the band' : `misses the band by ${fixed(judged?.missPct ?? 0, 1)} %`;
  const { min, max } = rebound!.reboundHeightMm!;
  const sentences = [
    `No rebound of handballs is published, so the league dropped its own ball, pumped up (n = ${READINGS.reboundHeightMm.length}, mean ± 2 standard deviations; the readings are ${INVENTED}): the lattice ${verdict}.`,
    `Between its orientations the lattice bounces ${fixed(max - min, 0)} mm apart: no dead spots, if that is little beside the height.`,
    `Mechanics took a modulus of ${fixed(material!.modulusMPa, 0)} MPa at ${material!.referenceHz} Hz and a loss factor of ${material!.lossFactor ?? 'its own terms'}, ${
      material!.temperatureC === null ? 'at a temperature its record does not state' : `at ${material!.temperatureC} °C`
    }: measure your powder before you rely on a bounce.`,
    ...(life ? [`Life, an estimate and no guarantee: ${livesOf(life)}.`] : []),
  ];
  return sentences.flatMap((each) => wrap(each, '  - '));
}

/** Beyond ten million cycles strain-life curves are not measured. */
function livesOf({ cyclesToFailure, cyclesBand }: NonNullable<Result['life']>): string {
  const [least, median, most] = [cyclesBand.min, cyclesToFailure, cyclesBand.max].map((each) => each.toPrecision(1));
  if (cyclesToFailure > 1e7) return 'more such bounces than fatigue is measured for, ten million';
  return `some ${median} such bounces, with the usual scatter of fatigue from ${least} to ${most}`;
}
