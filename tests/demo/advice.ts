import type { Reference } from '../../openapi/index.ts';
import { wanted } from './brief.ts';
import { type Finished, price } from './comparison.ts';
import { fixed, table, wrap } from './text.ts';

/** One version as each build volume would make it. */
export interface Place {
  buildVolume: string;
  sizeMm: readonly number[];
  result: Finished['result'];
}

export function placesTable(places: readonly Place[]): string[] {
  const rows = places.map(({ buildVolume, sizeMm, result: { build, ...result } }) => [
    `${buildVolume}, ${sizeMm.join(' × ')} mm`,
    String(build.partsPerBuild),
    fixed(build.totalHours, 1),
    price({ build, ...result }),
  ]);
  return table([['build volume', 'parts per build', 'hours per build', 'cost per part'], ...rows]);
}

/** What the results themselves suggest to try next. */
export function advice(all: readonly Finished[], places: readonly Place[], reference: Reference): string[] {
  const last = all.at(-1)!;
  const [size] = wanted(reference, 'circumferenceMm');
  const items = [smaller(all, size.min ?? 0), cheapest(last, places), fingers(last), TEST_PRINT].filter((item) => item !== null);
  return items.flatMap((item, k) => wrap(item, `  ${k + 1}. `));
}

const TEST_PRINT =
  'Print one in truth, weigh it and drop it next to an inflated ball, and calibrate again: what the powder of this story does ' +
  'to struts, density and bounce is invented; yours does something else.';

/** The circumference goes with the outside diameter, and smaller parts stack more densely. */
function smaller(all: readonly Finished[], leastMm: number): string | null {
  const last = all.at(-1)!;
  const most = all.reduce((a, b) => (b.result.build.partsPerBuild > a.result.build.partsPerBuild ? b : a));
  if (most.result.build.partsPerBuild <= last.result.build.partsPerBuild) return null;
  const diameterMm = (last.version.parameterSet.carrier.outsideDiameterMm * (leastMm + 1)) / last.result.geometry.circumferenceMm;
  return (
    `Go small: ${most.version.parameterSet.carrier.outsideDiameterMm} mm across (version ${most.version.number}) stacked ${most.result.build.partsPerBuild} in a build, ` +
    `version ${last.version.number} stacks ${last.result.build.partsPerBuild}. The band of the circumference begins at ${leastMm} mm: some ${fixed(diameterMm, 1)} mm across.`
  );
}

function cheapest(last: Finished, places: readonly Place[]): string | null {
  const amount = ({ result }: Pick<Place, 'result'>) => result.cost?.totalPerPart.amount ?? Number.POSITIVE_INFINITY;
  const best = places.reduce((a, b) => (amount(b) < amount(a) ? b : a));
  if (!(amount(best) < amount(last))) return null;
  return (
    `Ask for the build volume ${best.buildVolume}: ${price(best.result)} a part when all ${best.result.build.partsPerBuild} are made at once, ` +
    `instead of ${price(last.result)}. Powder and machine rates are round, invented figures: post your own records first.`
  );
}

function fingers({ version, result }: Finished): string | null {
  if (!result.printability.checks.some(({ id, status }) => id === 'finger-entrapment' && status !== 'pass')) return null;
  const { m = 0, n = 0 } = version.parameterSet.tiling;
  return (
    `Cells that can hold a finger: a finer tiling than GP(${m},${n}), such as GP(${m + 1},${n + 1}) with thinner struts, makes them smaller, ` +
    'but its struts short for their thickness. Read finger-entrapment and strut-slenderness together.'
  );
}
