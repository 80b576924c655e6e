import { MOST_FACTORS, type SelectionEffectsQuery } from '../openapi/index.ts';
import type { Records, SelectedEvaluation } from '../prisma/index.ts';
import { leavesOf } from './difference.ts';
import { effectsPicture, type Known, tableOf } from './effects.ts';
import type { Handlers } from './handlers.ts';
import { conditionsOf } from './history.ts';
import { Refusal } from './refusal.ts';
import type { Varied } from './varied.ts';

const MOST_LOOKED_AT = 50_000;
/** As many as of a batch. */
const MOST_POINTS = 5000;

type Leaf = number | string | boolean | null;

/** How a quantity follows what differs between the evaluations of any selection of the history. */
export function selectionEffectHandlers(
  evaluations: Pick<Records['evaluations'], 'selected'>,
): Handlers<'getSelectionEffects' | 'drawSelectionEffects'> {
  async function effectsOf(teamId: string, query: SelectionEffectsQuery) {
    const { quantity } = query;
    const most = { quantity, most: MOST_LOOKED_AT, drawn: MOST_POINTS };
    const { finished, complete, rows } = await evaluations.selected(teamId, conditionsOf(query), most);
    const leaves = rows.map(leavesAt);
    const named = [query.path ?? []].flat();
    const varied = (named.length > 0 ? named : differing(leaves)).map((path) => variedAt(path, leaves));
    const known = leaves.flatMap((each, k): Known[] => {
      const row = varied.map(({ path, choices }) => (choices ? choices.indexOf(each.get(path) as string) : (each.get(path) as number)));
      const { value, engineVersion } = rows[k];
      return varied.every(({ path }) => isThere(each.get(path))) ? [{ row, value, engineVersion }] : [];
    });
    return { ...tableOf(varied, known, { quantity, finished }), complete };
  }
  return {
    getSelectionEffects: async ({ query, caller }) => ({ body: await effectsOf(caller.teamId, query) }),
    drawSelectionEffects: async ({ query, caller }) => effectsPicture(await effectsOf(caller.teamId, query)),
  };
}

const isThere = (leaf: Leaf | undefined) => leaf !== undefined && leaf !== null;

const leavesAt = ({ parameterSet, material, buildVolume }: SelectedEvaluation): Map<string, Leaf> =>
  leavesOf({ ...parameterSet, material, buildVolume });

/** What every evaluation has and not all have alike. Refusal: that is more than can be told apart. */
function differing(leaves: readonly Map<string, Leaf>[]): string[] {
  const [first, ...others] = leaves;
  const shared = [...(first?.keys() ?? [])].filter((path) => leaves.every((each) => isThere(each.get(path))));
  const paths = shared.filter((path) => others.some((each) => each.get(path) !== first.get(path)));
  if (paths.length <= MOST_FACTORS) return paths;
  const detail = `is missing, and ${paths.length} parameters differ between these evaluations: ${paths.join(', ')}; required: at most ${MOST_FACTORS} of them`;
  throw new Refusal('invalid-query', { errors: [{ pointer: '/path', detail }] });
}

/** A number, where all are numbers; else the choices that there are, in the order of their names. */
function variedAt(path: string, leaves: readonly Map<string, Leaf>[]): Varied {
  const values = leaves.map((each) => each.get(path)).filter(isThere) as Exclude<Leaf, null>[];
  if (values.every((each) => typeof each === 'number')) return { path, choices: null };
  return { path, choices: [...new Set(values)].sort() as string[] };
}
