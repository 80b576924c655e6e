import { exampleKey } from '../examples.ts';
import { apiKey, createdKey, createdTeam, keyBody, teamBody } from '../key.ts';
import type { Route } from '../route.ts';
import { byId, created, page } from './answers.ts';

export const keyRoutes = {
  createKey: {
    method: 'POST',
    url: '/v1/keys',
    tag: 'keys',
    summary: 'Make an API key for the own team',
    role: 'admin',
    secret: true,
    body: keyBody,
    bodyExample: { name: exampleKey.name, role: exampleKey.role },
    responses: created(createdKey, 'The key, shown this once'),
  },
  listKeys: {
    method: 'GET',
    url: '/v1/keys',
    tag: 'keys',
    summary: 'The API keys of the own team',
    role: 'admin',
    responses: page(apiKey, 'All keys, without their secrets', exampleKey),
  },
  revokeKey: {
    method: 'DELETE',
    url: '/v1/keys/:id',
    tag: 'keys',
    summary: 'Revoke an API key',
    role: 'admin',
    params: byId,
    responses: { 200: { description: 'The key, revoked', schema: apiKey } },
    problems: ['last-admin-key'],
  },
  createTeam: {
    method: 'POST',
    url: '/v1/teams',
    tag: 'keys',
    summary: 'Make a team and its first admin key',
    role: 'admin',
    secret: true,
    body: teamBody,
    bodyExample: { name: 'Harbour Schools League' },
    responses: { 201: { description: 'The team and its key, shown this once', schema: createdTeam } },
  },
} as const satisfies Record<string, Route>;
