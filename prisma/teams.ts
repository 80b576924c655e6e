import type { Database } from './bound.ts';
import type { Teams } from './repositories.ts';

export function teamRepository(prisma: Database): Teams {
  return {
    create: ({ name }) => prisma.team.create({ data: { name } }),
    get: (id) => prisma.team.findUnique({ where: { id } }),
  };
}
