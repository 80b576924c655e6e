import type { Retention as Shown } from '../openapi/index.ts';
import type { Retention } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';

/** What a team lets go, and when. */
export function retentionHandlers(retention: Retention): Handlers<'getRetention' | 'setRetention'> {
  const shown = async (teamId: string, instead: Partial<Shown['rules']> = {}): Promise<Shown> => {
    const { rules, changedAt } = await retention.get(teamId);
    const asked = Object.fromEntries(Object.entries(instead).filter(([, days]) => days !== undefined));
    const wouldFreeNow = await retention.wouldFree(teamId, { ...rules, ...asked });
    return { rules, changedAt: changedAt?.toISOString() ?? null, wouldFreeNow };
  };
  return {
    getRetention: async ({ query, caller }) => ({ body: await shown(caller.teamId, query) }),
    setRetention: async ({ body, caller }) => {
      await retention.set(caller.teamId, body);
      return { body: await shown(caller.teamId) };
    },
  };
}
