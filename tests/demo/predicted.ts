import type { Reference, VersionComparison } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import type { Desk } from './desk.ts';
import { fixed, table } from './text.ts';

export type Compared = VersionComparison['groups'][number]['quantities'][number];

const ROWS: [quantity: string, name: string, decimals: number][] = [
  ['massG', 'mass, g', 1],
  ['circumferenceMm', 'circumference, mm', 1],
  ['stiffnessNPerMm', 'stiffness, N/mm', 2],
  ['reboundHeightMm', 'rebound, mm', 0],
];

/** What was predicted of a version beside what its prints measured, by quantity. */
export async function compared({ client }: Desk, designId: string, number: number): Promise<Compared[]> {
  const path = { id: designId, number };
  const found = answered(await client.GET('/v1/designs/{id}/versions/{number}/comparison', { params: { path } })) as VersionComparison;
  return found.groups.flatMap(({ quantities }) => quantities);
}

/** Predicted beside measured, beside what is wanted. */
export function comparedTable(found: readonly Compared[], { targets }: Reference): string[] {
  const rows = ROWS.flatMap(([quantity, name, decimals]) => {
    const each = found.find((one) => one.quantity === quantity);
    const { min, max } = targets.find((one) => one.quantity === quantity) ?? {};
    if (!each || min === undefined || max === undefined) return [];
    const { predicted, band, measured, differencePct } = each;
    const shown = (value: number | null) => (value === null ? '-' : fixed(value, decimals));
    const range = band ? ` (${shown(band.min)} to ${shown(band.max)})` : '';
    const verdict = measured.mean >= min && measured.mean <= max ? 'yes' : 'no';
    return [
      [
        name,
        `${shown(min)}–${shown(max)}`,
        `${shown(predicted)}${range}`,
        shown(measured.mean),
        `${fixed(differencePct ?? 0, 1)} %`,
        verdict,
      ],
    ];
  });
  return table([['', 'wanted', 'predicted (band)', 'measured', 'off by', 'as wanted'], ...rows]);
}

/** By how much predictions miss what was measured: root mean square of the quantities of the table, per cent. */
export function missPct(found: readonly Compared[]): number {
  const misses = ROWS.flatMap(([quantity]) => found.find((each) => each.quantity === quantity)?.differencePct ?? []);
  return Math.sqrt(misses.reduce((sum, each) => sum + each * each, 0) / misses.length);
}
