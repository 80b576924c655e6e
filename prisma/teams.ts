import { type Database, within } from './bound.ts';
import type { ApiKey, KeyRole } from './records.ts';
import type { Teams } from './repositories.ts';

export function teamRepository(prisma: Database): Teams {
  return {
    create: ({ name }) => prisma.team.create({ data: { name } }),
    createWithKey: ({ name }, newKey) =>
      within(prisma, async (tx) => {
        const team = await tx.team.create({ data: { name } });
        const stored = await tx.apiKey.create({ data: { teamId: team.id, ...newKey } });
        const key: ApiKey = { ...stored, role: stored.role as KeyRole };
        return { team, key };
      }),
    get: (id) => prisma.team.findUnique({ where: { id } }),
  };
}
