import type { ParameterSet, Reference, Search, SearchRequest, Version } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { CONDITIONS, FREE } from './brief.ts';
import type { Desk } from './desk.ts';
import { followSearch } from './follow.ts';
import { openProgress } from './progress.ts';
import { fixed, wrap } from './text.ts';

export interface Wish {
  name: string;
  /** Where it begins. */
  from: Version;
  targets: Reference['targets'];
  tests: SearchRequest['tests'];
  /** Most evaluations. */
  budget: number;
  material?: string;
}
export interface Found {
  set: ParameterSet;
  evaluations: number;
  search: Search;
}

/** Lets the service look for parameters that meet the targets; says how it went. Throws its verdict where none do. */
export async function searchFor({ client, say, signal }: Desk, wish: Wish): Promise<Found> {
  const { name, from, targets, tests, budget, material = CONDITIONS.material } = wish;
  const body = {
    ...{ name, versionId: from.id, material, buildVolume: CONDITIONS.buildVolume, reference: { targets } },
    ...{ free: FREE, objective: 'totalPerPart', tests, budget: { evaluations: budget } },
  };
  say('', `Searching from version ${from.number}: ${name}`);
  const posted = answered(await client.POST('/v1/searches', { body })) as Search;
  const { last, seconds } = await followSearch(client, posted, { progress: openProgress(process.stderr, 'search'), signal });
  say(...wrap(`${last.verdict} (${fixed(seconds, 1)} s)`, '  '), ...whatMovesWhat(last));
  if (!last.best?.meetsAll) throw new Error(`The search ended without a set that meets every target: ${last.verdict}`);
  return { set: last.best.parameterSet as ParameterSet, evaluations: last.progress.evaluations, search: last };
}

/** What to turn next: of each target the parameter that it follows most. */
function whatMovesWhat({ sensitivities, reference }: Search): string[] {
  const most = reference.targets.flatMap(({ quantity }) => {
    const own = sensitivities.filter((each) => each.quantity === quantity);
    return own.length === 0 ? [] : [own.reduce((a, b) => (Math.abs(b.pctPerPct) > Math.abs(a.pctPerPct) ? b : a))];
  });
  if (most.length === 0) return [];
  const told = most.map(({ quantity, path, pctPerPct }) => `1 % more of ${path} moves ${quantity} by ${fixed(pctPerPct, 2)} %`);
  return wrap(`From there ${told.join('; ')}.`, '  ');
}
