import type { ParameterSet } from '../openapi/index.ts';
import { type Database, sqlWithin, within } from './bound.ts';
import type { Prisma, Version as StoredVersion } from './client/generated/client.ts';
import { RecordFault } from './faults.ts';
import { lineage } from './lineage.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { Version } from './records.ts';
import type { Versions } from './repositories.ts';

const plain = (version: StoredVersion): Version => ({ ...version, parameterSet: version.parameterSet as unknown as ParameterSet });

export function versionRepository(prisma: Database): Versions {
  const byNumber = async (teamId: string, designId: string, number: number) => {
    const version = await prisma.version.findFirst({ where: { designId, number, design: { teamId } } });
    return version && plain(version);
  };

  return {
    create: (teamId, designId, { parameterSet, notes, tags, basedOnId }) =>
      within(prisma, async (tx) => {
        // Counting on the design holds it until the end, so each number is given once and none is left out.
        const counted = await tx.design.updateManyAndReturn({ where: { id: designId, teamId }, data: { newestVersion: { increment: 1 } } });
        const design = counted.at(0);
        if (!design) return null;
        if (design.archivedAt) throw new RecordFault('design-archived', { field: 'designId', value: designId }, 'is archived');
        if (basedOnId && !(await tx.version.findFirst({ where: { id: basedOnId, design: { teamId } } }))) {
          const at = { field: 'basedOnId', value: basedOnId };
          throw new RecordFault(
            'based-on-unknown',
            at,
            'is not a version of the team; allowed: the id of one, of this design or another, or none',
          );
        }
        const body = { parameterSet: parameterSet as Prisma.InputJsonValue, notes, tags, basedOnId };
        return plain(await tx.version.create({ data: { designId, number: design.newestVersion, ...body } }));
      }),

    async get(teamId, id) {
      const version = await prisma.version.findFirst({ where: { id, design: { teamId } } });
      return version && plain(version);
    },

    byNumber,

    async update(teamId, designId, number, { notes, tags }) {
      await prisma.version.updateMany({ where: { designId, number, design: { teamId } }, data: { notes, tags } });
      return byNumber(teamId, designId, number);
    },

    async list(teamId, designId, page) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-number', 'number');
      if (!(await prisma.design.findFirst({ where: { id: designId, teamId } }))) return null;
      const versions = await prisma.version.findMany({
        where: { designId, ...(after && { number: { lt: Number(after.value) } }), ...(page.tag && { tags: { has: page.tag } }) },
        orderBy: { number: 'desc' },
        take: limit + 1,
      });
      return toPage(versions, limit, ({ number, id }) => ({ sort: '-number', value: number, id }), plain);
    },

    async lineage(teamId, designId, page) {
      if (!(await prisma.design.findFirst({ where: { id: designId, teamId } }))) return null;
      return lineage(sqlWithin(prisma), teamId, designId, page);
    },
  };
}
