import type { PrismaClient, ApiKey as StoredKey } from './client/generated/client.ts';
import type { ApiKey, KeyRole } from './records.ts';
import type { Keys } from './repositories.ts';

const BOOTSTRAP_LOCK = 7_078_801;
const TOUCH_MS = 60_000;

const plain = (key: StoredKey): ApiKey => ({ ...key, role: key.role as KeyRole });

export function keyRepository(prisma: PrismaClient): Keys {
  const mine = async (teamId: string, id: string) => {
    const key = await prisma.apiKey.findFirst({ where: { id, teamId } });
    return key && plain(key);
  };

  return {
    async create(teamId, key) {
      return plain(await prisma.apiKey.create({ data: { teamId, ...key } }));
    },

    async withPrefix(prefix) {
      return (await prisma.apiKey.findMany({ where: { prefix, revokedAt: null } })).map(plain);
    },

    async list(teamId) {
      return (await prisma.apiKey.findMany({ where: { teamId }, orderBy: { id: 'asc' } })).map(plain);
    },

    async revoke(teamId, id) {
      await prisma.apiKey.updateMany({ where: { id, teamId, revokedAt: null }, data: { revokedAt: new Date() } });
      return mine(teamId, id);
    },

    async touch(id) {
      const longAgo = new Date(Date.now() - TOUCH_MS);
      const stale = { OR: [{ lastUsedAt: null }, { lastUsedAt: { lt: longAgo } }] };
      await prisma.apiKey.updateMany({ where: { id, ...stale }, data: { lastUsedAt: new Date() } });
    },

    bootstrap: ({ teamName, key, unless }) =>
      prisma.$transaction(async (tx) => {
        await tx.$executeRaw`select pg_advisory_xact_lock(${BOOTSTRAP_LOCK})`;
        if (await tx.apiKey.findFirst({ where: unless === 'any-key' ? {} : { hash: key.hash } })) return false;
        const team = (await tx.team.findFirst({ orderBy: { id: 'asc' } })) ?? (await tx.team.create({ data: { name: teamName } }));
        await tx.apiKey.create({ data: { teamId: team.id, ...key } });
        return true;
      }),
  };
}
