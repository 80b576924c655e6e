import { axisWords, countsOf, type FrontQuery, mixedVersions, type Quantity } from '../openapi/index.ts';
import type { Evaluations } from '../prisma/index.ts';
import { front } from '../worker/engine/front/index.ts';
import { frontPlot } from '../worker/plots/index.ts';
import { newPage } from '../worker/plots/on-server.ts';
import { drawingAnswer } from './drawing-answer.ts';
import type { Handlers } from './handlers.ts';
import { conditionsOf, summaryShown } from './history.ts';

const MOST_LOOKED_AT = 50_000;
const MOST_ITEMS = 1000;

export function frontHandlers(evaluations: Pick<Evaluations, 'figures' | 'summaries'>): Handlers<'getFront' | 'drawFront'> {
  /** The evaluations that a question means, and the places of those that nothing beats, by the first quantity. */
  async function frontOf(teamId: string, query: FrontQuery) {
    const minimise = [query.minimise ?? []].flat() as Quantity[];
    const maximise = [query.maximise ?? []].flat() as Quantity[];
    const quantities = [...minimise, ...maximise];
    const found = await evaluations.figures(teamId, conditionsOf(query), { quantities, most: MOST_LOOKED_AT + 1 });
    const looked = found.slice(0, MOST_LOOKED_AT);
    const points = looked.map(({ figures }) => figures.map((each, k) => (k < minimise.length ? each : -each)));
    const members = front(points).sort((a, b) => points[a][0] - points[b][0] || a - b);
    return { minimise, maximise, looked, members, complete: found.length === looked.length };
  }

  return {
    getFront: async ({ query, caller: { teamId } }) => {
      const { minimise, maximise, looked, members, complete } = await frontOf(teamId, query);
      const ids = members.slice(0, MOST_ITEMS).map((k) => looked[k].id);
      return {
        body: {
          ...{ minimise, maximise, lookedAt: looked.length, complete, count: members.length },
          items: (await evaluations.summaries(teamId, ids)).map(summaryShown),
          warnings: mixedVersions(countsOf(looked)),
        },
      };
    },
    drawFront: async ({ query, caller: { teamId } }) => {
      const { minimise, maximise, looked, members } = await frontOf(teamId, query);
      const best = new Set(members);
      const axes = [...minimise, ...maximise].map((quantity, k) => ({
        name: axisWords(quantity),
        wanted: k < minimise.length ? ('least' as const) : ('most' as const),
      }));
      const points = looked.map(({ id, figures }, k) => ({ name: id, best: best.has(k), values: figures }));
      return drawingAnswer(frontPlot({ axes, points }, newPage()), 'front.svg');
    },
  };
}
