import type { Records } from '../prisma/index.ts';
import { mainEffect } from '../worker/engine/regression/index.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';
import { rowOf, shownChoices, variedBy } from './varied.ts';

/** More tell no more: the mean of a level is then good to a fraction of a per cent of its spread. */
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
    const values = known.map(({ value }) => value);
    const whole = known.length > 0 ? mainEffect({ choices: [null] }, new Array(known.length).fill(0), values).levels[0] : null;
    const parameters = varied.map((each, k) => {
      const settings = known.map(({ row }) => row[k]);
      const { share, levels } = mainEffect(each, settings, values);
      const choices = shownChoices(each);
      const shown = levels.map(({ from, to, ...rest }) =>
        choices ? { from: null, to: null, choice: choices[from], ...rest } : { from, to, choice: null, ...rest },
      );
      return { path: each.path, share, levels: shown };
    });
    const shares = parameters.map(({ share }) => share);
    const rest = shares.some((each) => each === null) ? null : Math.max(0, 1 - shares.reduce<number>((sum, each) => sum + each!, 0));
    return {
      body: {
        ...{ quantity, finished, points: known.length, mean: whole?.mean ?? null, deviation: whole?.deviation ?? null },
        ...{ parameters, rest: known.length > 0 ? rest : null },
      },
    };
  },
});
