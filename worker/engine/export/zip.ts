import { Deflate, strToU8 } from 'fflate';
import { crc32 } from '../picture/index.ts';

/** A file of a package: its name (ASCII), and its text in pieces, which are asked for one after another. */
export interface Entry {
  readonly name: string;
  readonly text: Iterable<string>;
}

const [LOCAL, CENTRAL, END] = [0x04034b50, 0x02014b50, 0x06054b50];
/** Version 2.0 packs and has folders; deflate. Noon of 1 January 1980, the first day that zip knows: the same bytes for the same text, whenever and wherever. */
const [VERSION, DEFLATED, TIME, DATE] = [20, 8, 12 << 11, (1 << 5) | 1];
/** Letters packed at a time: a few milliseconds. */
const PIECE = 1 << 16;

interface Packed {
  readonly name: Uint8Array;
  readonly pieces: readonly Uint8Array[];
  readonly crc: number;
  readonly size: number;
  readonly packedSize: number;
}

/**
 * A zip package (APPNOTE 6.3, without its 64-bit extension: below 4 GB), sizes and sums ahead of the contents, as readers of any kind want them. `poll` is called
 * every few milliseconds; what it throws ends it.
 */
export function zip(entries: readonly Entry[], poll: () => void): Uint8Array {
  const packed = entries.map((entry) => packedOf(entry, poll));
  const bytes = new Uint8Array(packed.reduce((sum, { name, packedSize }) => sum + 76 + 2 * name.length + packedSize, 22));
  const view = new DataView(bytes.buffer);
  let at = 0;
  const put = (...fields: readonly (readonly [value: number, bytes: 2 | 4])[]) => {
    for (const [value, size] of fields) {
      if (size === 2) view.setUint16(at, value, true);
      else view.setUint32(at, value, true);
      at += size;
    }
  };
  const copy = (part: Uint8Array) => {
    bytes.set(part, at);
    at += part.length;
  };
  const described = ({ crc, size, packedSize, name }: Packed) =>
    put([VERSION, 2], [0, 2], [DEFLATED, 2], [TIME, 2], [DATE, 2], [crc, 4], [packedSize, 4], [size, 4], [name.length, 2], [0, 2]);
  const starts = packed.map((each) => {
    const start = at;
    put([LOCAL, 4]);
    described(each);
    copy(each.name);
    for (const piece of each.pieces) copy(piece);
    return start;
  });
  const directory = at;
  packed.forEach((each, k) => {
    put([CENTRAL, 4], [VERSION, 2]);
    described(each);
    put([0, 2], [0, 2], [0, 2], [0, 4], [starts[k], 4]);
    copy(each.name);
  });
  const directorySize = at - directory;
  put([END, 4], [0, 2], [0, 2], [packed.length, 2], [packed.length, 2], [directorySize, 4], [directory, 4], [0, 2]);
  return bytes;
}

function packedOf({ name, text }: Entry, poll: () => void): Packed {
  const pieces: Uint8Array[] = [];
  let [crc, size, packedSize, waiting] = [0, 0, 0, ''];
  const deflate = new Deflate({ level: 6 }, (piece) => {
    pieces.push(piece);
    packedSize += piece.length;
  });
  const push = (last: boolean) => {
    poll();
    const bytes = strToU8(waiting);
    crc = crc32(bytes, crc);
    size += bytes.length;
    deflate.push(bytes, last);
    waiting = '';
  };
  for (const piece of text) {
    waiting += piece;
    if (waiting.length >= PIECE) push(false);
  }
  push(true);
  return { name: strToU8(name), pieces, crc, size, packedSize };
}
