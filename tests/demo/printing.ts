import type { Version } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { CONDITIONS, INVENTED } from './brief.ts';
import type { Desk } from './desk.ts';
import { type Truth, testsOf } from './test-house.ts';

export interface Printing {
  truth: Truth;
  material: string;
  parts: number;
}

/** "Prints" so many parts of a version, and enters them and everything that the test house measures on them. */
export async function printAndMeasure(desk: Desk, version: Version, { truth, material, parts }: Printing): Promise<void> {
  const serials = Array.from({ length: parts }, (_, k) => serialOf(version, k));
  const body = {
    ...{ versionId: version.id, material, buildVolume: CONDITIONS.buildVolume, notes: INVENTED },
    ...{ lot: { name: 'Lot 7', virginSharePct: 50 }, build: `2027-03 ball ${version.number}`, printedOn: '2027-03-01' },
    finishing: [{ kind: 'cleaning' as const, method: 'glass beads' }],
    copies: serials.map((serial) => ({ serial })),
  };
  answered(await desk.client.POST('/v1/prints', { body }));
  const tests = serials.flatMap((serial, k) => testsOf(truth, serial, k));
  for (const test of tests) answered(await desk.client.POST('/v1/measurements', { body: test }));
  desk.say(`  ${parts} parts of version ${version.number} "printed", ${tests.length} tests entered: every number ${INVENTED}`);
}

/** Of this version and no other, also where the service has known earlier demos. */
const serialOf = ({ id, number }: Version, part: number) => `HSL-${number}-${id.slice(-6)}-${part + 1}`;
