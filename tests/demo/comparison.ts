import type { Result, Version } from '../../openapi/index.ts';
import { fixed, table, wrap } from './text.ts';

/** One version with what came of it. */
export interface Finished {
  version: Version;
  evaluationId: string;
  result: Result;
}

type Row = [label: string, cell: (each: Finished) => string];

/** The versions side by side: parameters, results, targets met or missed. */
export function comparisonTable(all: readonly Finished[]): string[] {
  const numberOf = (id: string | null) => all.find(({ version }) => version.id === id)?.version.number ?? '-';
  const rows: Row[] = [
    ['', ({ version }) => `version ${version.number}`],
    ['based on version', ({ version }) => String(numberOf(version.basedOn))],
    ['outside diameter, mm', ({ version }) => fixed(version.parameterSet.carrier.outsideDiameterMm, 2)],
    ...strutRows(all),
    ['mass, g', ({ result }) => fixed(result.massProperties.massG, 1)],
    ['circumference, mm', ({ result }) => fixed(result.geometry.circumferenceMm, 1)],
    ['stiffness, N/mm', ({ result }) => fixed(result.stiffness?.secantNPerMm ?? Number.NaN, 2)],
    ['rebound, mm', ({ result }) => (result.rebound?.reboundHeightMm ? fixed(result.rebound.reboundHeightMm.mean, 0) : '-')],
    ['halves differ in mass by, %', ({ result }) => fixed(result.balance.halfMassDifferencePct, 4)],
    ['smallest opening, mm', ({ result }) => fixed(Math.min(...result.geometry.cellOpeningMm.map(({ min }) => min)), 2)],
    ['printability', ({ result }) => result.printability.verdict],
    ['parts per build', ({ result }) => String(result.build.partsPerBuild)],
    ['hours per build', ({ result }) => fixed(result.build.totalHours, 1)],
    ['cost per part, full build', ({ result }) => price(result)],
    ...targetRows(all),
  ];
  return table(rows.map(([label, cell]) => [label, ...all.map(cell)]));
}

export const price = ({ cost }: Result): string =>
  cost ? `${fixed(cost.totalPerPart.amount, 2)} ${cost.totalPerPart.currency}` : 'does not fit';

function strutRows([{ version }]: readonly Finished[]): Row[] {
  const layers = version.parameterSet.layers.map(
    (_, k): Row => [`strut diameter, layer ${k}, mm`, (each) => fixed(each.version.parameterSet.layers[k].strutDiameterMm, 2)],
  );
  return [...layers, ['strut diameter, posts, mm', (each) => fixed(each.version.parameterSet.links.strutDiameterMm ?? 0, 2)]];
}

const NAMES: Record<string, [name: string, unit: string, decimals: number]> = {
  massG: ['mass', 'g', 0],
  circumferenceMm: ['circumference', 'mm', 0],
  stiffnessNPerMm: ['stiffness', 'N/mm', 2],
  reboundHeightMm: ['rebound', 'mm', 0],
};

function targetRows([{ result }]: readonly Finished[]): Row[] {
  return result.targets.map(({ quantity, min, max }, k): Row => {
    const [name, unit, decimals] = NAMES[quantity] ?? [quantity, '', 2];
    const limit = (value: number | null) => (value === null ? '' : fixed(value, decimals));
    const label = `target: ${name} ${limit(min)}–${limit(max)} ${unit}`;
    return [label, (each) => verdictOf(each.result.targets[k])];
  });
}

function verdictOf({ within, missPct }: Result['targets'][number]): string {
  if (within === null) return 'not computed';
  return within ? 'met' : `missed, ${fixed(missPct ?? 0, 1)} %`;
}

/** Whether every target is met that the result has a number for. */
export const meetsAll = ({ targets }: Result): boolean => targets.every(({ within }) => within !== false);

/** Checks that warn or fail, each in its own words, with the versions it concerns; the sentence is the newest version's. */
export function checksInWords(all: readonly Finished[]): string[] {
  const concerned = all.flatMap(({ version, result }) =>
    result.printability.checks
      .filter(({ status }) => status === 'warn' || status === 'fail')
      .map((check) => ({ check, number: version.number })),
  );
  const ids = [...new Set(concerned.map(({ check }) => check.id))];
  const lines = ids.flatMap((id) => {
    const each = concerned.filter(({ check }) => check.id === id);
    const { check } = each.at(-1)!;
    const versions = `${each.length > 1 ? 'versions' : 'version'} ${each.map(({ number }) => number).join(', ')}`;
    return [`  ${check.status}  ${id} (${versions})`, ...wrap(check.message, ' '.repeat(8))];
  });
  return lines.length > 0 ? lines : ['  every check that could be made passes'];
}

/** The checks that could not be made. */
export function notJudged({ result }: Finished): string[] {
  const ids = result.printability.checks.filter(({ status }) => status === 'not-checked').map(({ id }) => id);
  return ids.length > 0 ? wrap(`${ids.join(', ')} (reasons in result.json)`, '  not checked: ') : [];
}
