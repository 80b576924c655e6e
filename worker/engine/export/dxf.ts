import type { FlatCells } from './flat-cells.ts';

/** A group of a drawing exchange file: its code and its value, a line each. */
type Group = readonly [code: number, value: string | number];

const closed = (layer: string, outline: readonly number[]): Group[] => {
  const groups: Group[] = [
    [0, 'POLYLINE'],
    [8, layer],
    // vertices follow; bit 1 of the flags: closed
    [66, 1],
    [10, 0],
    [20, 0],
    [30, 0],
    [70, 1],
  ];
  for (let k = 0; k < outline.length; k += 2)
    groups.push([0, 'VERTEX'], [8, layer], [10, outline[k].toFixed(4)], [20, outline[k + 1].toFixed(4)], [30, '0.0']);
  groups.push([0, 'SEQEND'], [8, layer]);
  return groups;
};

/**
 * Flattened cells as a drawing exchange file in ASCII, of release 12 and entities alone, which every reader takes: each cell a closed polyline, mm, five-sided
 * ones on the layer PENTAGONS, the others on HEXAGONS.
 */
export function cellsDxf({ cells }: FlatCells): string {
  const groups: Group[] = [
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...cells.flatMap(({ sides, outline }) => closed(sides === 5 ? 'PENTAGONS' : 'HEXAGONS', outline)),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return groups.map(([code, value]) => `${code}\n${value}\n`).join('');
}
