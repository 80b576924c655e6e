import { QUANTITIES } from '../openapi/index.ts';
import type { ExportedEvaluation } from '../prisma/index.ts';

export type Cell = string | number | null;

/** A column of an export: what it is called, whether it holds numbers, and what stands there. */
export interface Column {
  readonly name: string;
  readonly type: 'text' | 'number';
  readonly of: (evaluation: ExportedEvaluation) => Cell;
}

const text = (name: string, of: Column['of']): Column => ({ name, type: 'text', of });
const number = (name: string, of: (evaluation: ExportedEvaluation) => number | null | undefined): Column => ({
  name,
  type: 'number',
  of: (evaluation) => of(evaluation) ?? null,
});
const MOST_LAYERS = 4;

/** Every column, named by the dotted paths of the parameter set and the short names of the numbers. */
export const COLUMNS: readonly Column[] = [
  text('id', ({ id }) => id),
  text('designId', ({ designId }) => designId),
  number('version', ({ version }) => version),
  text('status', ({ status }) => status),
  text('verdict', ({ verdict }) => verdict),
  text('createdAt', ({ createdAt }) => createdAt.toISOString()),
  text('finishedAt', ({ finishedAt }) => finishedAt?.toISOString() ?? null),
  text('material', ({ material }) => material),
  text('buildVolume', ({ buildVolume }) => buildVolume),
  number('carrier.outsideDiameterMm', ({ parameterSet }) => parameterSet.carrier.outsideDiameterMm),
  number('tiling.m', ({ parameterSet }) => parameterSet.tiling.m),
  number('tiling.n', ({ parameterSet }) => parameterSet.tiling.n),
  text('tiling.relaxation', ({ parameterSet }) => parameterSet.tiling.relaxation),
  text('tiling.orientation', ({ parameterSet }) => parameterSet.tiling.orientation),
  ...Array.from({ length: MOST_LAYERS }, (_, k) => [
    number(`layers.${k}.depthMm`, ({ parameterSet }) => parameterSet.layers[k]?.depthMm),
    number(`layers.${k}.strutDiameterMm`, ({ parameterSet }) => parameterSet.layers[k]?.strutDiameterMm),
  ]).flat(),
  text('links.pattern', ({ parameterSet }) => parameterSet.links.pattern),
  number('links.strutDiameterMm', ({ parameterSet }) => parameterSet.links.strutDiameterMm),
  ...QUANTITIES.map((quantity) => number(quantity, ({ quantities }) => quantities[quantity])),
];
