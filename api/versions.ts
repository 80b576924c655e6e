import type { Version } from '../openapi/index.ts';
import type { Version as VersionRecord, Versions } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';

type Operation = 'createVersion' | 'listVersions' | 'getVersion' | 'changeVersion';

const shown = ({ basedOnId, createdAt, ...version }: VersionRecord): Version => ({
  ...version,
  basedOn: basedOnId,
  createdAt: createdAt.toISOString(),
});

export const versionHandlers = (versions: Versions): Handlers<Operation> => ({
  createVersion: async ({ params, body, caller }) => {
    const { parameterSet, notes, tags, basedOn } = body;
    const made = await versions.create(caller.teamId, params.id, { parameterSet, notes, tags, basedOnId: basedOn ?? null });
    const version = found(made, 'design');
    return { body: shown(version), location: `/v1/designs/${version.designId}/versions/${version.number}` };
  },
  listVersions: async ({ params, query, caller }) => {
    const { items, nextCursor } = found(await versions.list(caller.teamId, params.id, query), 'design');
    return { body: { items: items.map(shown), nextCursor } };
  },
  getVersion: async ({ params, caller }) => ({
    body: shown(found(await versions.byNumber(caller.teamId, params.id, params.number), 'version')),
  }),
  changeVersion: async ({ params, body, caller }) => ({
    body: shown(found(await versions.update(caller.teamId, params.id, params.number, body), 'version')),
  }),
});
