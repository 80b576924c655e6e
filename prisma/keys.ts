import { type Database, within } from './bound.ts';
import type { ApiKey as StoredKey } from './client/generated/client.ts';
import { RecordFault } from './faults.ts';
import type { ApiKey, KeyRole } from './records.ts';
import type { Keys } from './repositories.ts';

const BOOTSTRAP_LOCK = 7_078_801;
const TOUCH_MS = 60_000;

const lastAdminKey = (id: string) => new RecordFault('last-admin-key', { field: 'id', value: id }, 'Make another admin key first');

const plain = (key: StoredKey): ApiKey => ({ ...key, role: key.role as KeyRole });

export function keyRepository(prisma: Database): Keys {
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

    revoke: (teamId, id) =>
      within(prisma, async (tx) => {
        // One revocation of a team at a time, so that two cannot each count on the other's key.
        await tx.$executeRaw`select 1 from app.team where id = ${teamId}::uuid for no key update`;
        const key = await tx.apiKey.findFirst({ where: { id, teamId } });
        if (!key || key.revokedAt) return key && plain(key);
        const others = { teamId, role: 'admin', revokedAt: null, id: { not: id } };
        if (key.role === 'admin' && !(await tx.apiKey.findFirst({ where: others }))) throw lastAdminKey(id);
        return plain(await tx.apiKey.update({ where: { id }, data: { revokedAt: new Date() } }));
      }),

    async touch(id) {
      const longAgo = new Date(Date.now() - TOUCH_MS);
      const stale = { OR: [{ lastUsedAt: null }, { lastUsedAt: { lt: longAgo } }] };
      await prisma.apiKey.updateMany({ where: { id, ...stale }, data: { lastUsedAt: new Date() } });
    },

    bootstrap: ({ teamName, key, unless }) =>
      within(prisma, async (tx) => {
        await tx.$executeRaw`select pg_advisory_xact_lock(${BOOTSTRAP_LOCK})`;
        if (await tx.apiKey.findFirst({ where: unless === 'any-key' ? {} : { hash: key.hash } })) return false;
        const team = (await tx.team.findFirst({ orderBy: { id: 'asc' } })) ?? (await tx.team.create({ data: { name: teamName } }));
        await tx.apiKey.create({ data: { teamId: team.id, ...key } });
        return true;
      }),
  };
}
