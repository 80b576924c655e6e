import type { Database } from './bound.ts';
import type { Design as StoredDesign } from './client/generated/client.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { Design } from './records.ts';
import type { Designs } from './repositories.ts';

const plain = ({ newestVersion: _, ...design }: StoredDesign): Design => design;

export function designRepository(prisma: Database): Designs {
  const mine = async (teamId: string, id: string) => {
    const design = await prisma.design.findFirst({ where: { id, teamId } });
    return design && plain(design);
  };

  return {
    async create(teamId, design) {
      return plain(await prisma.design.create({ data: { teamId, ...design } }));
    },

    get: mine,

    async list(teamId, page) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-createdAt', 'time');
      const createdAt = after && new Date(after.value);
      const older = createdAt && { OR: [{ createdAt: { lt: createdAt } }, { createdAt, id: { lt: after.id } }] };
      const designs = await prisma.design.findMany({
        where: { teamId, archivedAt: null, ...older, ...(page.tag && { tags: { has: page.tag } }) },
        orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
        take: limit + 1,
      });
      return toPage(designs, limit, ({ createdAt, id }) => ({ sort: '-createdAt', value: createdAt.toISOString(), id }), plain);
    },

    async update(teamId, id, { name, notes, tags }) {
      await prisma.design.updateMany({ where: { id, teamId }, data: { name, notes, tags } });
      return mine(teamId, id);
    },

    async archive(teamId, id) {
      await prisma.design.updateMany({ where: { id, teamId, archivedAt: null }, data: { archivedAt: new Date() } });
      return mine(teamId, id);
    },
  };
}
