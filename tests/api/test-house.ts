import { exampleParameterSet } from '../../openapi/examples.ts';
import type { Answer } from './ask.ts';
import type { Person, Site } from './site.ts';

let designs = 0;
/** A design with so many versions, each with a thicker outer layer than the last, unlike those of any other design; their ids by number - 1. */
export async function printedDesign(site: Site, who: Person, count = 1): Promise<{ designId: string; versions: string[] }> {
  const designId = (await site.call(who, 'POST', '/v1/designs', { body: { name: 'Test house' } })).body.id;
  const versions: string[] = [];
  const thicker = 0.001 * designs++;
  for (let k = 0; k < count; k++) {
    const [outer, ...layers] = exampleParameterSet.layers;
    const parameterSet = {
      ...exampleParameterSet,
      layers: [{ ...outer, strutDiameterMm: outer.strutDiameterMm + thicker + 0.1 * k }, ...layers],
    };
    versions.push((await site.call(who, 'POST', `/v1/designs/${designId}/versions`, { body: { parameterSet } })).body.id);
  }
  return { designId, versions };
}

export const PRINTED = {
  lot: { name: 'Lot 14', virginSharePct: 50 },
  build: 'A',
  printedOn: '2027-02-03',
  material: 'tpu-soft',
  buildVolume: 'medium-polymer',
};
/** Enters copies with these serials. */
export const enterPrints = (site: Site, who: Person, versionId: string, serials: string[], more: object = {}): Promise<Answer> =>
  site.call(who, 'POST', '/v1/prints', { body: { ...PRINTED, versionId, copies: serials.map((serial) => ({ serial })), ...more } });

let minute = 0;
/** A mass in grams, each at a minute of its own. */
export const massOf = (serial: string, ...values: number[]) => ({
  kind: 'mass',
  serial,
  unit: 'g',
  values,
  measuredAt: new Date(Date.UTC(2027, 1, 5) + 60_000 * minute++).toISOString(),
});
export const enter = (site: Site, who: Person, body: object): Promise<Answer> => site.call(who, 'POST', '/v1/measurements', { body });
