import type { ResolvedInput } from '../../openapi/evaluation.ts';
import type { Result } from '../../openapi/result.ts';
import { figures, fixed, table } from './table.ts';

/** A quantity's name, its value as text, its unit. */
type Row = [name: string, value: string, unit: string];

/** The results of an evaluation as text for people: every group of numbers with units, checks, targets met or missed, cautions. */
export function resultsTable(input: ResolvedInput, result: Result): string {
  const numbers: [string, Row[]][] = [
    ['Geometry', geometry(result)],
    ['Mass', mass(result)],
    ['Balance', balance(result)],
    ['Build', build(result)],
    ['Cost of one part, at a full build', cost(result)],
  ];
  const lines = aligned(numbers);
  return [
    heading(input),
    ...lines,
    '',
    `Printability: ${result.printability.verdict}`,
    ...checks(result),
    ...section('What did not simply pass', reasons(result)),
    ...section(input.reference?.key ? `Targets (${input.reference.key})` : 'Targets', targets(result)),
    ...section('Cautions', cautions(result)),
  ].join('\n');
}

function heading({ parameterSet, material, buildVolume }: ResolvedInput): string {
  const { m, n, relaxation, orientation } = parameterSet.tiling;
  const layers = `${parameterSet.layers.length} ${parameterSet.layers.length === 1 ? 'layer' : 'layers'}`;
  const records = `material ${material.key ?? 'of its own'}, build volume ${buildVolume.key ?? 'of its own'}`;
  return `GP(${m},${n}), relaxation ${relaxation}, ${orientation}, ${layers}; ${records}`;
}

const section = (title: string, lines: string[]): string[] => (lines.length > 0 ? ['', title, ...lines] : []);
const indented = (lines: string[]): string[] => lines.map((line) => `  ${line}`);

/** All groups in one table, so that their columns stand under each other. */
function aligned(groups: [string, Row[]][]): string[] {
  const rows = groups.flatMap(([, group]) => group);
  const lines = indented(table([{ align: 'left' }, { align: 'right' }, { align: 'left' }], rows));
  return groups.flatMap(([title, group]) => section(title, lines.splice(0, group.length)));
}

function geometry({ geometry: g }: Result): Row[] {
  return [
    ['triangulation number', String(g.triangulationNumber), ''],
    ['nodes', String(g.nodeCount), ''],
    ['struts', String(g.strutCount), ''],
    ['pentagons and hexagons of a layer', `${g.pentagonCount} + ${g.hexagonCount}`, ''],
    ['outside diameter', fixed(g.outsideDiameterMm, 3), 'mm'],
    ['circumference', fixed(g.circumferenceMm, 2), 'mm'],
    ['strut length, least', fixed(g.strutLengthMm.min, 3), 'mm'],
    ['strut length, most', fixed(g.strutLengthMm.max, 3), 'mm'],
    ...g.cellOpeningMm.map((each): Row => [`least opening, layer ${each.layer}`, fixed(each.min, 3), 'mm']),
    ['edge uniformity', fixed(g.edgeUniformityPct, 3), '%'],
    ['struts across the split plane', String(g.strutsAcrossSplitPlane), ''],
  ];
}

function mass({ massProperties: m }: Result): Row[] {
  return [
    ['mass', fixed(m.massG, 3), 'g'],
    ['volume', fixed(m.volumeMm3, 1), 'mm3'],
    ['sum of cylinders', fixed(m.sumOfCylindersMassG, 3), 'g'],
    ['relative density', fixed(m.relativeDensityPct, 3), '%'],
    ['principal inertia, least', fixed(Math.min(...m.principalInertiaGMm2), 0), 'g mm2'],
    ['principal inertia, most', fixed(Math.max(...m.principalInertiaGMm2), 0), 'g mm2'],
  ];
}

function balance({ balance: b }: Result): Row[] {
  return [
    ['halves across z = 0 differ by', fixed(b.halfMassDifferencePct, 4), '%'],
    ['halves in any direction differ by', fixed(b.largestHalfMassDifferencePct, 4), '%'],
    ['centre of mass off centre', fixed(b.centreOfMassOffsetMm, 4), 'mm'],
    ['inertia spread', fixed(b.inertiaSpreadPct, 4), '%'],
    ['radial runout', fixed(b.radialRunoutMm, 4), 'mm'],
  ];
}

function build({ build: b }: Result): Row[] {
  return [
    ['parts of a build', String(b.partsPerBuild), ''],
    ['height', fixed(b.heightMm, 1), 'mm'],
    ['layers', String(b.layerCount), ''],
    ['scanning', fixed(b.scanHours, 2), 'h'],
    ['recoating', fixed(b.recoatHours, 2), 'h'],
    ['waiting for short layers', fixed(b.waitHours, 2), 'h'],
    ['warm-up and cool-down', fixed(b.warmUpHours + b.coolDownHours, 2), 'h'],
    ['total', fixed(b.totalHours, 2), 'h'],
    ['packing density', fixed(b.packingDensityPct, 2), '%'],
  ];
}

function cost({ cost: c }: Result): Row[] {
  if (!c) return [['not one part fits the build volume', '-', '']];
  const row = (name: string, { amount, currency }: { amount: number; currency: string }): Row => [name, fixed(amount, 2), currency];
  return [row('powder', c.powderCostPerPart), row('machine', c.machineCostPerPart), row('total', c.totalPerPart)];
}

function checks({ printability }: Result): string[] {
  const rows = printability.checks.map((each) => {
    const bound = each.limit === null ? '' : `limit ${figures(each.limit)} ${each.unit}`;
    return [each.status, each.id, figures(each.value), each.value === null ? '' : each.unit, bound];
  });
  const columns = (['left', 'left', 'right', 'left', 'left'] as const).map((align) => ({ align }));
  return indented(table(columns, rows));
}

function reasons({ printability }: Result): string[] {
  return indented(
    printability.checks.filter((each) => each.status !== 'pass').map((each) => `${each.id} (${each.status}): ${each.message}`),
  );
}

function targets({ targets: all }: Result): string[] {
  const rows = all.map((each) => {
    const met = each.within === null ? 'no such number' : each.within ? 'met' : `missed by ${fixed(each.missPct, 2)} %`;
    return [each.quantity, figures(each.value), `${figures(each.min)} to ${figures(each.max)}`, `aim ${figures(each.target)}`, met];
  });
  return indented(table([{ align: 'left' }, { align: 'right' }, { align: 'left' }, { align: 'left' }, { align: 'left' }], rows));
}

function cautions({ warnings }: Result): string[] {
  return indented(warnings.map((each) => `${each.code}: ${each.message}`));
}
