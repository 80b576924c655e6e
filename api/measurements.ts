import { type MeasuredQuantity, measuredValuesOf, type Outlier, type TestMeasurement } from '../openapi/index.ts';
import type { MeasurementRecord, Records } from '../prisma/index.ts';
import { outliersOf } from '../worker/engine/probability/index.ts';
import type { Handlers } from './handlers.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'createMeasurement' | 'listMeasurements' | 'getMeasurement' | 'archiveMeasurement';

/** Repeats that chance does not explain, of every quantity. */
export const flagged = (quantities: Partial<Record<MeasuredQuantity, number[]>>): Outlier[] =>
  (Object.entries(quantities) as [MeasuredQuantity, number[]][]).flatMap(([quantity, values]) =>
    outliersOf(values).map(({ index, statistic, critical }) => ({ quantity, index, value: values[index], statistic, critical })),
  );

export const shownMeasurement = ({ teamId: _, print, ...record }: MeasurementRecord): TestMeasurement => ({
  ...record,
  ...{ printId: print.id, serial: print.serial, designId: print.designId, versionId: print.versionId, version: print.version },
  measuredAt: record.measuredAt.toISOString(),
  outliers: flagged(record.values.quantities),
  createdAt: record.createdAt.toISOString(),
  archivedAt: record.archivedAt?.toISOString() ?? null,
});

export function measurementHandlers({ measurements, prints }: Pick<Records, 'measurements' | 'prints'>): Handlers<Operation> {
  return {
    createMeasurement: async ({ body, caller: { teamId } }) => {
      const { printId, serial } = body;
      const [print] = await prints.find(teamId, { ids: printId ? [printId] : [], serials: serial ? [serial] : [] });
      if (!print) {
        const at = printId ? { pointer: '/printId', value: printId } : { pointer: '/serial', value: serial };
        throw new Refusal('invalid-body', { errors: [{ ...at, detail: 'is not known; allowed: that of a print of the team' }] });
      }
      const read = measuredValuesOf(body, print);
      if (!read.ok) throw new Refusal('invalid-body', { errors: read.errors });
      const [id] = await measurements.create(teamId, [{ printId: print.id, given: body, values: read.value }]);
      const made = found(await measurements.get(teamId, id), 'measurement');
      return { body: shownMeasurement(made), location: `/v1/measurements/${id}` };
    },
    listMeasurements: async ({ query: { archived, ...query }, caller }) => {
      const { items, nextCursor } = await measurements.list(caller.teamId, { ...query, archived: archived === 'true' });
      return { body: { items: items.map(shownMeasurement), nextCursor } };
    },
    getMeasurement: async ({ params, caller }) => ({
      body: shownMeasurement(found(await measurements.get(caller.teamId, params.id), 'measurement')),
    }),
    archiveMeasurement: async ({ params, caller }) => ({
      body: shownMeasurement(found(await measurements.archive(caller.teamId, params.id), 'measurement')),
    }),
  };
}
