import type { Design } from '../openapi/index.ts';
import type { Design as DesignRecord, Designs } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';

type Operation = 'createDesign' | 'listDesigns' | 'getDesign' | 'changeDesign' | 'archiveDesign';

const shown = ({ id, name, notes, tags, createdAt, archivedAt }: DesignRecord): Design => ({
  id,
  name,
  notes,
  tags,
  createdAt: createdAt.toISOString(),
  archivedAt: archivedAt?.toISOString() ?? null,
});

export const designHandlers = (designs: Designs): Handlers<Operation> => ({
  createDesign: async ({ body, caller }) => {
    const design = await designs.create(caller.teamId, body);
    return { body: shown(design), location: `/v1/designs/${design.id}` };
  },
  listDesigns: async ({ query, caller }) => {
    const { q, ...page } = query;
    const { items, nextCursor } = await designs.list(caller.teamId, { ...page, words: q });
    return { body: { items: items.map(shown), nextCursor } };
  },
  getDesign: async ({ params, caller }) => ({ body: shown(found(await designs.get(caller.teamId, params.id), 'design')) }),
  changeDesign: async ({ params, body, caller }) => ({
    body: shown(found(await designs.update(caller.teamId, params.id, body), 'design')),
  }),
  archiveDesign: async ({ params, caller }) => ({ body: shown(found(await designs.archive(caller.teamId, params.id), 'design')) }),
});
