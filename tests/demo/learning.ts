import type { Calibration, CalibrationResult, Version } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { CONDITIONS } from './brief.ts';
import type { Desk } from './desk.ts';
import { followCalibration } from './follow.ts';
import { openProgress } from './progress.ts';
import { fixed, table, wrap } from './text.ts';

export interface Learnt {
  /** Key of the material as it prints. */
  material: string;
  result: CalibrationResult;
}

const PRINTED_MATERIAL = 'harbour-tpu';

/** Learns what printing does to the material from the measurements of a version, and keeps the material as it prints. */
export async function learn({ client, say, signal }: Desk, version: Version): Promise<Learnt> {
  const body = { material: CONDITIONS.material, versionId: version.id };
  const posted = answered(await client.POST('/v1/calibrations', { body })) as Calibration;
  const { result, seconds } = await followCalibration(client, posted, { progress: openProgress(process.stderr, 'calibration'), signal });
  const path = { id: posted.id };
  answered(await client.POST('/v1/calibrations/{id}/material', { params: { path }, body: { key: PRINTED_MATERIAL } }));
  say(`  calibrated in ${fixed(seconds, 1)} s; kept as the material ${PRINTED_MATERIAL}`);
  return { material: PRINTED_MATERIAL, result };
}

const NAMES: Record<string, [name: string, decimals: number]> = {
  growthInLayerMm: ['struts grow in the layer, mm', 3],
  growthUprightMm: ['struts grow upright, mm', 3],
  densityFactor: ['density, factor', 3],
  modulusFactor: ['modulus, factor', 3],
  lossFactorFactor: ['loss factor, factor', 3],
  jointFactor: ['joint lengths, factor', 3],
};
const TOLD = { told: 'yes', partly: 'partly', 'not-told': 'no: as believed before' };

/** What was learnt, and what the measurements could not tell. */
export function learntTable({ result: { estimates, identifiability } }: Learnt): string[] {
  const rows = estimates.map(({ unknown, value, low, high, told }) => {
    const [name, decimals] = NAMES[unknown];
    return [name, fixed(value, decimals), `${fixed(low, decimals)} to ${fixed(high, decimals)}`, TOLD[told]];
  });
  return [
    ...table([['', 'estimate', '95 %', 'told by the tests'], ...rows]),
    '',
    ...identifiability.sentences.flatMap((each) => wrap(each, '  - ')),
  ];
}
