import type { ApiKeyRecord } from '../openapi/index.ts';
import type { ApiKey, Keys, Teams } from '../prisma/index.ts';
import { keyRecord, mintKey } from './api-key.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';

type Operation = 'createKey' | 'listKeys' | 'revokeKey' | 'createTeam';

const shown = ({ id, name, role, prefix, createdAt, lastUsedAt, revokedAt }: ApiKey): ApiKeyRecord => ({
  id,
  name,
  role,
  prefix,
  createdAt: createdAt.toISOString(),
  lastUsedAt: lastUsedAt?.toISOString() ?? null,
  revokedAt: revokedAt?.toISOString() ?? null,
});

export function keyHandlers({ keys, teams }: { keys: Keys; teams: Teams }): Handlers<Operation> {
  /** The one moment at which the whole key is shown. */
  const make = async (teamId: string, described: { name: string; role: ApiKey['role'] }) => {
    const key = mintKey();
    return { ...shown(await keys.create(teamId, keyRecord(key, described))), key };
  };

  return {
    createKey: async ({ body, caller }) => {
      const key = await make(caller.teamId, body);
      return { body: key, location: `/v1/keys/${key.id}` };
    },
    listKeys: async ({ caller }) => ({ body: { items: (await keys.list(caller.teamId)).map(shown), nextCursor: null } }),
    revokeKey: async ({ params, caller }) => ({ body: shown(found(await keys.revoke(caller.teamId, params.id), 'key')) }),
    createTeam: async ({ body }) => {
      const secret = mintKey();
      const { team, key } = await teams.createWithKey(body, keyRecord(secret, { name: 'first admin key', role: 'admin' }));
      return { body: { id: team.id, name: team.name, adminKey: { ...shown(key), key: secret } } };
    },
  };
}
