import { ByteWriter, ParquetWriter } from 'hyparquet-writer';
import { type Cell, COLUMNS } from './export-columns.ts';
import type { Pieces } from './export-formats.ts';

/**
 * Rows of a row group. What the end of a file says of each column of each group (some kilobyte) has to be kept until then, so groups of a page would
 * hold ever more of a long export; while a larger group is written, others wait.
 */
const GROUP = 5000;

const SCHEMA = [
  { name: 'root', num_children: COLUMNS.length },
  ...COLUMNS.map(({ name, type }) =>
    type === 'number'
      ? ({ name, type: 'DOUBLE', repetition_type: 'OPTIONAL' } as const)
      : ({ name, type: 'BYTE_ARRAY', converted_type: 'UTF8', repetition_type: 'OPTIONAL' } as const),
  ),
];

/** Parquet: rows are held by columns until they fill a group, which is then written and handed on. */
export function parquet(): Pieces {
  const bytes = new ByteWriter();
  const writer = new ParquetWriter({ writer: bytes, schema: SCHEMA, createdBy: 'strutwright' });
  const held = COLUMNS.map(({ type }) => (type === 'number' ? numbers() : texts()));
  let rows = 0;
  const written = () => {
    const taken = bytes.getBytes().slice();
    bytes.index = 0;
    return taken;
  };
  const closeGroup = () => {
    if (rows > 0) writer.write({ columnData: COLUMNS.map(({ name }, k) => columnOf(name, () => held[k].first(rows))), rowGroupSize: rows });
    rows = 0;
  };
  return {
    head: written(),
    rows: (page) => {
      for (const each of page) {
        for (const [k, { of }] of COLUMNS.entries()) held[k].put(rows, of(each));
        if (++rows === GROUP) closeGroup();
      }
      return written();
    },
    end: () => {
      closeGroup();
      writer.finish();
      return written();
    },
  };
}

/** Its values are made when the writer comes to it, so that those of one column are there at a time. */
const columnOf = (name: string, values: () => Cell[]) => ({
  name,
  get data() {
    return values();
  },
});

interface Held {
  put(row: number, cell: Cell): void;
  first(rows: number): Cell[];
}

/** In one stretch for all groups, so that nothing is left to collect. NaN, which no number of a result is, stands for none. */
function numbers(): Held {
  const kept = new Float64Array(GROUP);
  return {
    put: (row, cell) => {
      kept[row] = cell === null ? Number.NaN : Number(cell);
    },
    first: (rows) => Array.from(kept.subarray(0, rows), (each) => (Number.isNaN(each) ? null : each)),
  };
}

function texts(): Held {
  const kept: Cell[] = new Array(GROUP).fill(null);
  return {
    put: (row, cell) => {
      kept[row] = cell;
    },
    first: (rows) => kept.slice(0, rows),
  };
}
