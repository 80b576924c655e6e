import type { Reference } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { wanted } from './brief.ts';
import type { Desk } from './desk.ts';
import { fixed } from './text.ts';

/** The versions that the service finds when asked for the mass, over all evaluations of the design. */
export async function inHistory({ client }: Desk, designId: string, count: number, reference: Reference): Promise<string[]> {
  const [{ min, max }] = wanted(reference, 'massG');
  const query = { designId, 'massG.gte': min, 'massG.lte': max, sort: 'massG' as const };
  const { items } = answered(await client.GET('/v1/evaluations', { params: { query } }));
  const found = items.map(({ version, quantities }) => `version ${version} (${fixed(quantities.massG ?? Number.NaN, 1)} g)`);
  const asked = `GET /v1/evaluations?designId=...&massG.gte=${min}&massG.lte=${max}&sort=massG`;
  return ['', `Asked of the history: ${asked}`, `  ${found.length} of ${count} evaluations: ${found.join(', ') || 'none'}`];
}
