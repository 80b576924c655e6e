import type { ResolvedInput } from '../../openapi/evaluation.ts';
import type { Result } from '../../openapi/result.ts';
import { type Row, resultRows } from './result-rows.ts';
import { figures, fixed, table } from './table.ts';

/** The results of an evaluation as text for people: every group of numbers with units, checks, targets met or missed, cautions. */
export function resultsTable(input: ResolvedInput, result: Result): string {
  return [
    heading(input),
    ...aligned(resultRows(result)),
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
