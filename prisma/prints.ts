import type { FinishingStep, ParameterSet } from '../openapi/index.ts';
import { type Database, within } from './bound.ts';
import type { Prisma } from './client/generated/client.ts';
import { RecordFault } from './faults.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { PrintFilter, PrintRecord, Prints } from './test-house-types.ts';

export const withVersion = { version: true } as const;
type StoredPrint = Prisma.PrintGetPayload<{ include: typeof withVersion }>;
type Triple = [number, number, number];

/** A list of three numbers, or none. */
const triple = (numbers: number[]): Triple | null => (numbers.length === 3 ? (numbers as Triple) : null);

export const plainPrint = (stored: StoredPrint): PrintRecord => ({
  id: stored.id,
  teamId: stored.teamId,
  designId: stored.version.designId,
  versionId: stored.versionId,
  version: stored.version.number,
  outsideDiameterMm: (stored.version.parameterSet as unknown as ParameterSet).carrier.outsideDiameterMm,
  serial: stored.serial,
  material: { key: stored.materialKey, revision: stored.materialRevision },
  buildVolume: { key: stored.buildVolumeKey, revision: stored.buildVolumeRevision },
  lot: { name: stored.lot, virginSharePct: stored.virginSharePct },
  build: stored.build,
  placeMm: triple(stored.placeMm),
  orientationDeg: triple(stored.orientationDeg),
  finishing: stored.finishing as unknown as FinishingStep[],
  printedOn: stored.printedOn.toISOString().slice(0, 10),
  notes: stored.notes,
  createdAt: stored.createdAt,
  archivedAt: stored.archivedAt,
});

/** The rows that a filter means. */
export const printsOf = ({ designId, material, materialRevision, buildVolume, ...alike }: PrintFilter): Prisma.PrintWhereInput => ({
  versionId: alike.versionId,
  build: alike.build,
  lot: alike.lot,
  serial: alike.serial,
  materialKey: material,
  materialRevision,
  buildVolumeKey: buildVolume,
  ...(designId && { version: { designId } }),
});

/** Rows after the place where the page before ended, the newest first. */
export function olderThan(after: { value: string | number; id: string } | null) {
  if (!after) return {};
  const createdAt = new Date(after.value);
  return { OR: [{ createdAt: { lt: createdAt } }, { createdAt, id: { lt: after.id } }] };
}
export const NEWEST_FIRST = [{ createdAt: 'desc' as const }, { id: 'desc' as const }];
export const placeOf = ({ createdAt, id }: { createdAt: Date; id: string }) => ({
  sort: '-createdAt',
  value: createdAt.toISOString(),
  id,
});

export function printRepository(prisma: Database): Prints {
  const get: Prints['get'] = async (teamId, id) => {
    const print = await prisma.print.findFirst({ where: { id, teamId }, include: withVersion });
    return print && plainPrint(print);
  };

  return {
    create: (teamId, { versionId, copies, material, buildVolume, lot, finishing, printedOn, ...alike }) =>
      within(prisma, async (tx) => {
        if (!(await tx.version.findFirst({ where: { id: versionId, design: { teamId } } }))) return null;
        const common = {
          ...alike,
          ...{ teamId, versionId },
          ...{ materialKey: material.key, materialRevision: material.revision },
          ...{ buildVolumeKey: buildVolume.key, buildVolumeRevision: buildVolume.revision },
          ...{ lot: lot.name, virginSharePct: lot.virginSharePct },
          finishing: finishing as unknown as Prisma.InputJsonValue,
          printedOn: new Date(printedOn),
        };
        const data = copies.map(({ serial, placeMm, orientationDeg }) => ({
          ...common,
          ...{ serial, placeMm: placeMm ?? [], orientationDeg: orientationDeg ?? [] },
        }));
        const made = await tx.print.createManyAndReturn({ data, skipDuplicates: true, include: withVersion });
        const bySerial = new Map(made.map((each) => [each.serial, each]));
        const taken = copies.findIndex(({ serial }) => !bySerial.has(serial));
        if (taken >= 0) {
          const at = { field: `/copies/${taken}/serial`, value: copies[taken].serial };
          throw new RecordFault('serial-taken', at, 'belongs to another print of the team; allowed: a serial that no print has');
        }
        return copies.map(({ serial }) => plainPrint(bySerial.get(serial)!));
      }),

    get,

    async find(teamId, { ids, serials }) {
      const where = { teamId, OR: [{ id: { in: ids } }, { serial: { in: serials } }] };
      return (await prisma.print.findMany({ where, include: withVersion })).map(plainPrint);
    },

    async list(teamId, { archived, ...page }) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-createdAt', 'time');
      const rows = await prisma.print.findMany({
        where: { teamId, ...printsOf(page), archivedAt: archived ? { not: null } : null, ...olderThan(after) },
        orderBy: NEWEST_FIRST,
        take: limit + 1,
        include: withVersion,
      });
      return toPage(rows, limit, placeOf, plainPrint);
    },

    async update(teamId, id, { notes, finishing }) {
      const data = { notes, finishing: finishing as unknown as Prisma.InputJsonValue | undefined };
      await prisma.print.updateMany({ where: { id, teamId }, data });
      return get(teamId, id);
    },

    async archive(teamId, id) {
      await prisma.print.updateMany({ where: { id, teamId, archivedAt: null }, data: { archivedAt: new Date() } });
      return get(teamId, id);
    },
  };
}
