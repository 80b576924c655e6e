import { z } from 'zod';
import { evaluationSummary } from './evaluation.ts';
import { historyFiltersAlone } from './history.ts';
import { withLeaves } from './leaf-filters.ts';
import { engineVersionsWarnings } from './mixed-versions.ts';
import { QUANTITIES } from './quantities.ts';

/** With more, hardly anything is beaten by anything. */
const MOST_WANTED = 4;

const wanted = z.union([z.enum(QUANTITIES), z.array(z.enum(QUANTITIES)).max(MOST_WANTED)]).optional();

/** The filters of the history, and what is wanted: `minimise=totalPerPart&maximise=reboundHeightMm`, each as often as it takes. */
export const frontQuery = withLeaves(
  historyFiltersAlone.extend({
    minimise: wanted.meta({ description: 'A quantity that is to be small; given again for more of them' }),
    maximise: wanted.meta({ description: 'A quantity that is to be large' }),
  }),
).superRefine(({ minimise, maximise }, context) => {
  const all = [minimise ?? [], maximise ?? []].flat();
  const issue = (path: string, message: string) =>
    context.addIssue({ code: 'custom', path: [path], input: (path === 'minimise' ? minimise : maximise) as unknown, message });
  if (all.length < 2) issue('minimise', `makes ${all.length} with maximise; required: two quantities at least, to minimise or to maximise`);
  if (all.length > MOST_WANTED) issue('minimise', `makes ${all.length} with maximise; allowed: at most ${MOST_WANTED}`);
  const twice = all.find((each, k) => all.indexOf(each) !== k);
  if (twice !== undefined)
    issue([minimise ?? []].flat().includes(twice) ? 'minimise' : 'maximise', `names ${twice} twice; allowed: each once`);
});
export type FrontQuery = z.infer<typeof frontQuery>;

const count = z.int().min(0);
export const paretoFront = z
  .strictObject({
    minimise: z.array(z.enum(QUANTITIES)),
    maximise: z.array(z.enum(QUANTITIES)),
    lookedAt: count.meta({ description: 'Evaluations that the filters mean and that have every quantity' }),
    complete: z.boolean().meta({ description: 'false: there are more than are looked at; narrow the filters' }),
    count: count.meta({ description: 'Those that nothing beats; equal ones all count' }),
    items: z.array(evaluationSummary).meta({ description: 'By the first quantity, the best first; the first thousand' }),
    warnings: engineVersionsWarnings,
  })
  .meta({ id: 'Front', description: 'Evaluations that no other is at least as good as in every quantity and better in one' });
export type ParetoFront = z.infer<typeof paretoFront>;
