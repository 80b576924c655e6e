import { axisWords, countsOf, type Effects, mixedVersions, type Quantity } from '../openapi/index.ts';
import type { Records } from '../prisma/index.ts';
import { mainEffects } from '../worker/engine/regression/index.ts';
import { effectsPlot, levelName } from '../worker/plots/index.ts';
import { newPage } from '../worker/plots/on-server.ts';
import { drawingAnswer } from './drawing-answer.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';
import { rowOf, shownChoices, type Varied, variedBy } from './varied.ts';

/** Of twenty levels each has 250 points then: its mean is good to a sixteenth of its spread. */
const MOST_POINTS = 5000;

/** An evaluation with its settings as numbers: of choices their places. */
export interface Known {
  row: number[];
  value: number;
  engineVersion: string;
}

/** The effects of what is varied on the values known. */
export function tableOf(varied: readonly Varied[], known: readonly Known[], of: { quantity: Quantity; finished: number }): Effects {
  const looked = { ...of, points: known.length, warnings: mixedVersions(countsOf(known)) };
  if (known.length === 0) return { ...looked, mean: null, deviation: null, parameters: [], rest: null };
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
    return { path: varied[k].path, share, levels: shown };
  });
  return { ...looked, mean: effects.mean, deviation: effects.deviation, parameters, rest: effects.rest };
}

/** The same as a picture. */
export function effectsPicture({ quantity, mean, parameters }: Effects) {
  const named = parameters.map(({ levels, ...rest }) => ({
    ...rest,
    levels: levels.map((level) => ({ ...level, name: levelName(level) })),
  }));
  return drawingAnswer(effectsPlot({ mean, parameters: named }, axisWords(quantity), newPage()), 'effects.svg');
}

export function effectHandlers({ undertakings }: Pick<Records, 'undertakings'>): Handlers<'getEffects' | 'drawEffects'> {
  async function effectsOf(teamId: string, id: string, quantity: Quantity): Promise<Effects> {
    const batch = found(await undertakings.get(teamId, 'batch', id), 'batch');
    const varied = variedBy(batch);
    const paths = varied.map(({ path }) => path);
    const { finished, rows } = await undertakings.outcomes(teamId, id, { paths, quantities: [quantity], most: MOST_POINTS });
    const known = rows.flatMap(({ settings, values, engineVersion }) => {
      const row = rowOf(varied, settings);
      return row ? [{ row, value: values[0], engineVersion }] : [];
    });
    return tableOf(varied, known, { quantity, finished });
  }

  return {
    getEffects: async ({ params, query, caller }) => ({ body: await effectsOf(caller.teamId, params.id, query.quantity) }),
    drawEffects: async ({ params, query, caller }) => effectsPicture(await effectsOf(caller.teamId, params.id, query.quantity)),
  };
}
