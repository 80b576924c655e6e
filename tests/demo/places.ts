import type { Version } from '../../openapi/index.ts';
import type { Place } from './advice.ts';
import { answered } from './answer.ts';
import { CONDITIONS } from './brief.ts';
import type { Desk } from './desk.ts';
import { evaluate } from './follow.ts';
import { silent } from './progress.ts';

/** The same version in every built-in build volume, one after the other, as something else is computed meanwhile. */
export async function elsewhere({ client, signal }: Desk, version: Version): Promise<Place[]> {
  const { items } = answered(await client.GET('/v1/build-volumes'));
  const places: Place[] = [];
  for (const { key, sizeMm } of items.filter(({ builtIn }) => builtIn)) {
    const request = { versionId: version.id, material: CONDITIONS.material, buildVolume: key, tests: { depth: 'geometry' as const } };
    const { evaluation } = await evaluate(client, request, { progress: silent, signal });
    places.push({ buildVolume: key, sizeMm, result: evaluation.result });
  }
  return places;
}
