import type { Reference, ReferenceBody, Result } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { type Brief, CONDITIONS } from './brief.ts';
import type { Finished } from './comparison.ts';
import type { Desk } from './desk.ts';
import { evaluate } from './follow.ts';
import { openProgress } from './progress.ts';
import { fixed, table, wrap } from './text.ts';

const DROP_HEIGHT_MM = 1800;
const INVENTED = 'invented for this demo';
/** No rebound of handballs is published, so the league dropped one of its own, pumped up, six times. */
const READINGS_MM = [1215, 1190, 1230, 1205, 1220, 1200];

/** The league's own ball as a reference: what is published of its mass and size, and what the league measured of its bounce. */
const measuredBall = ({ reference }: Brief): ReferenceBody => ({
  ...{ key: 'harbour-training-ball', targets: reference.targets, source: 'The Harbour Schools League', edition: '2027' },
  ...{ status: INVENTED, inflation: { pressureBar: 0.4 }, dropHeightMm: DROP_HEIGHT_MM, peakForceN: null },
  measurements: [
    { quantity: 'reboundHeightMm', values: READINGS_MM, instrument: 'video beside a rule, on the floor of the hall', notes: INVENTED },
  ],
  band: { kind: 'standard-deviations', factor: 2 },
});

export interface Bounced {
  measured: Reference;
  evaluationId: string;
  result: Result;
}

/** Keeps the measured ball as a reference of the team, and has a version evaluated to the full against it. */
export async function bounce({ client, say, signal }: Desk, { version }: Finished, brief: Brief): Promise<Bounced> {
  const measured = answered(await client.POST('/v1/references', { body: measuredBall(brief) })) as Reference;
  const request = { ...CONDITIONS, versionId: version.id, reference: measured.key, tests: { depth: 'full' as const } };
  const progress = openProgress(process.stderr, `version ${version.number}, full`);
  const { evaluation, seconds } = await evaluate(client, request, { progress, signal });
  say('', `Version ${version.number} to the full, dropped and squeezed: evaluated in ${fixed(seconds, 1)} s`);
  return { measured, evaluationId: evaluation.id, result: evaluation.result };
}

/** The bounce of the lattice beside that of the ball it replaces: what was computed, what was measured, and what is an estimate only. */
export function bounceTable({ measured, result }: Bounced): string[] {
  const { rebound, stiffness } = result;
  if (!rebound?.reboundHeightMm || !rebound.restitution) throw new Error('The full evaluation left out the rebound');
  const { estimates } = measured;
  const aim = measured.targets.find(({ quantity }) => quantity === 'reboundHeightMm');
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
      stiffness?.secantNPerMm ? fixed(stiffness.secantNPerMm, 1) : '-',
      estimate(estimates && estimates.stiffnessNPerMm.value / 2, 1),
    ],
  ]);
}

/** What the table does not say. */
export function bounceInWords({ result }: Bounced): string[] {
  const { rebound, life, material } = result;
  const judged = result.targets.find(({ quantity }) => quantity === 'reboundHeightMm');
  const verdict = judged?.within ? 'meets the band' : `misses the band by ${fixed(judged?.missPct ?? 0, 1)} %`;
  const { min, max } = rebound!.reboundHeightMm!;
  const sentences = [
    `No rebound of handballs is published, so the league dropped its own ball, pumped up (n = ${READINGS_MM.length}, mean ± 2 standard deviations; the readings are ${INVENTED}): the lattice ${verdict}.`,
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
