import { z } from 'zod';
import { identifier, timestamp } from './common.ts';

export const role = z.enum(['admin', 'member']).meta({ description: 'admin: also manages keys and makes teams' });
export type Role = z.infer<typeof role>;
const name = z.string().trim().min(1).max(200);

export const keyBody = z.strictObject({ name, role: role.default('member') }).meta({ id: 'ApiKeyBody' });
export type KeyBody = z.infer<typeof keyBody>;

const visible = {
  id: identifier,
  name: z.string(),
  role,
  prefix: z.string().meta({ description: 'The first characters of the key, to tell keys apart' }),
  createdAt: timestamp,
  lastUsedAt: timestamp.nullable(),
  revokedAt: timestamp.nullable(),
};
export const apiKey = z.strictObject(visible).meta({ id: 'ApiKey', description: 'An API key of the team, without its secret' });
export type ApiKeyRecord = z.infer<typeof apiKey>;
export const createdKey = z
  .strictObject({ ...visible, key: z.string().meta({ description: 'The whole key: shown this once, kept only as a hash' }) })
  .meta({ id: 'CreatedApiKey' });
export type CreatedKey = z.infer<typeof createdKey>;

export const teamBody = z.strictObject({ name }).meta({ id: 'TeamBody' });
export type TeamBody = z.infer<typeof teamBody>;
export const createdTeam = z
  .strictObject({ id: identifier, name: z.string(), adminKey: createdKey })
  .meta({ id: 'CreatedTeam', description: 'A new team, whose data no other team sees, and its first admin key' });
export type CreatedTeam = z.infer<typeof createdTeam>;
