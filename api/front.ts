import type { Quantity } from '../openapi/index.ts';
import type { Evaluations } from '../prisma/index.ts';
import { front } from '../worker/engine/front/index.ts';
import type { Handlers } from './handlers.ts';
import { conditionsOf, summaryShown } from './history.ts';

const MOST_LOOKED_AT = 50_000;
const MOST_ITEMS = 1000;

export const frontHandlers = (evaluations: Pick<Evaluations, 'figures' | 'summaries'>): Handlers<'getFront'> => ({
  getFront: async ({ query, caller: { teamId } }) => {
    const minimise = [query.minimise ?? []].flat() as Quantity[];
    const maximise = [query.maximise ?? []].flat() as Quantity[];
    const quantities = [...minimise, ...maximise];
    const found = await evaluations.figures(teamId, conditionsOf(query), { quantities, most: MOST_LOOKED_AT + 1 });
    const looked = found.slice(0, MOST_LOOKED_AT);
    const points = looked.map(({ figures }) => figures.map((each, k) => (k < minimise.length ? each : -each)));
    const members = front(points).sort((a, b) => points[a][0] - points[b][0] || a - b);
    const ids = members.slice(0, MOST_ITEMS).map((k) => looked[k].id);
    return {
      body: {
        ...{ minimise, maximise, lookedAt: looked.length, complete: found.length === looked.length, count: members.length },
        items: (await evaluations.summaries(teamId, ids)).map(summaryShown),
      },
    };
  },
});
