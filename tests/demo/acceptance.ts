import type { Acceptance, Reference, Version } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import type { Desk } from './desk.ts';
import { fixed, wrap } from './text.ts';

const ANSWERS = { accepted: 'accepted', rejected: 'rejected', 'needs-more': 'not decided yet' };

/** Asks whether the measured parts of a version are what the reference asks for. */
export async function accept({ client }: Desk, version: Version, reference: Reference): Promise<Acceptance> {
  const body = { versionId: version.id, reference: reference.key, statement: 'mean' as const, confidencePct: 90 };
  return answered(await client.POST('/v1/acceptances', { body })) as Acceptance;
}

/** The answer, target by target. */
export function acceptanceInWords({ version, verdict, targets }: Acceptance): string[] {
  const lines = targets.map(({ quantity, statement, verdict: each, interval, more }) => {
    const from = interval ? `; the interval is ${fixed(interval.from ?? 0, 2)} to ${fixed(interval.to ?? 0, 2)}` : '';
    const further = more === null ? '' : `; ${more} more parts would decide it`;
    return wrap(`${quantity}: ${ANSWERS[each]} (${statement}${from}${further})`, '  - ');
  });
  return [`  version ${version}: ${ANSWERS[verdict]}`, ...lines.flat()];
}
