import type { Records } from '../prisma/index.ts';
import { mainEffects } from '../worker/engine/regression/index.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';
import { rowOf, shownChoices, variedBy } from './varied.ts';

/** Of twenty levels each has 250 points then: its mean is good to a sixteenth of its spread. */
const MOST_POINTS = 5000;

export const effectHandlers = ({ undertakings }: Pick<Records, 'undertakings'>): Handlers<'getEffects'> => ({
  getEffects: async ({ params, query: { quantity }, caller: { teamId } }) => {
    const batch = found(await undertakings.get(teamId, 'batch', params.id), 'batch');
    const varied = variedBy(batch);
    const paths = varied.map(({ path }) => path);
    const { finished, rows } = await undertakings.outcomes(teamId, params.id, { paths, quantities: [quantity], most: MOST_POINTS });
    const known = rows.flatMap(({ settings, values }) => {
      const row = rowOf(varied, settings);
      return row ? [{ row, value: values[0] }] : [];
    });
    const looked = { quantity, finished, points: known.length };
    if (known.length === 0) return { body: { ...looked, mean: null, deviation: null, parameters: [], rest: null } };
    const effects = mainEffects(
      varied,
      known.map(({ row }) => row),
      known.map(({ value }) => value),
    );
    const parameters = effects.factors.map(({ share, levels }, k) => {
      const choices = shownChoices(varied[k]);
      const shown = levels.map(({ from, to, ...rest }) =>
        choices ? { from: null, to: null, choice: choices[from], ...rest } : { from, to, choice: null, ...rest },
      );
      return { path: paths[k], share, levels: shown };
    });
    return { body: { ...looked, mean: effects.mean, deviation: effects.deviation, parameters, rest: effects.rest } };
  },
});
