import { type Database, within } from './bound.ts';
import type { Prisma } from './client/generated/client.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { Revision } from './records.ts';
import type { Revisions } from './repositories.ts';

export type Kind = 'material' | 'build-volume' | 'reference';

const withRecord = { record: true } as const;
type StoredRevision = Prisma.CatalogueRevisionGetPayload<{ include: typeof withRecord }>;

function plain<Body>({ id, revision, body, createdAt, record }: StoredRevision): Revision<Body> {
  const { teamId, key, archivedAt } = record;
  return { id, teamId, key, revision, body: body as Body, createdAt, archivedAt };
}

/** The team's own records of one kind. A revision never changes; a record counts them, and is what is archived. */
export function catalogueRepository<Body extends { key: string }>(prisma: Database, kind: Kind): Revisions<Body> {
  return {
    async create(teamId, body) {
      const { key } = body;
      return within(prisma, async (tx) => {
        // The upsert is one statement that holds the record until the end, so each revision number is given once.
        const record = await tx.catalogueRecord.upsert({
          where: { teamId_kind_key: { teamId, kind, key } },
          create: { teamId, kind, key },
          update: { newestRevision: { increment: 1 }, archivedAt: null },
        });
        const data = { recordId: record.id, revision: record.newestRevision, body: body as unknown as Prisma.InputJsonValue };
        return plain<Body>(await tx.catalogueRevision.create({ data, include: withRecord }));
      });
    },

    async get(teamId, key, revision) {
      const record = await prisma.catalogueRecord.findUnique({ where: { teamId_kind_key: { teamId, kind, key } } });
      if (!record || (revision === undefined && record.archivedAt)) return null;
      const wanted = { recordId: record.id, revision: revision ?? record.newestRevision };
      const found = await prisma.catalogueRevision.findUnique({ where: { recordId_revision: wanted }, include: withRecord });
      return found && plain<Body>(found);
    },

    async list(teamId, page) {
      const limit = pageLimit(page);
      const after = readCursor(page, 'key', 'text');
      const records = await prisma.catalogueRecord.findMany({
        where: { teamId, kind, archivedAt: null, ...(after && { key: { gt: String(after.value) } }) },
        orderBy: { key: 'asc' },
        take: limit + 1,
        include: { revisions: { orderBy: { revision: 'desc' }, take: 1 } },
      });
      return toPage(
        records,
        limit,
        ({ key, id }) => ({ sort: 'key', value: key, id }),
        ({ revisions, ...record }) => plain<Body>({ ...revisions[0], record }),
      );
    },

    async history(teamId, key, page) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-revision', 'number');
      const revisions = await prisma.catalogueRevision.findMany({
        where: { record: { teamId, kind, key }, ...(after && { revision: { lt: Number(after.value) } }) },
        orderBy: { revision: 'desc' },
        take: limit + 1,
        include: withRecord,
      });
      return toPage(revisions, limit, ({ revision, id }) => ({ sort: '-revision', value: revision, id }), plain<Body>);
    },

    async archive(teamId, key) {
      const mine = { teamId, kind, key };
      await prisma.catalogueRecord.updateMany({ where: { ...mine, archivedAt: null }, data: { archivedAt: new Date() } });
      return (await prisma.catalogueRecord.count({ where: mine })) > 0;
    },
  };
}
