import { RecordFault } from './faults.ts';
import type { Page, PageRequest } from './records.ts';

/** Where a page ended: the value sorted by and the id of its last item. `sort` names the order, so that no cursor is used in another one. */
export interface Position {
  sort: string;
  value: string | number;
  id: string;
}

const LARGEST_PAGE = 500;
const UUID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** The cursor behind an item. */
export const cursorAt = ({ sort, value, id }: Position): string => Buffer.from(JSON.stringify([sort, value, id])).toString('base64url');

function decode(cursor: string): Position | null {
  try {
    const [sort, value, id] = JSON.parse(Buffer.from(cursor, 'base64url').toString());
    const sound = typeof sort === 'string' && ['string', 'number'].includes(typeof value) && UUID.test(id);
    return sound ? { sort, value, id } : null;
  } catch {
    return null;
  }
}

/** The limit, when it is allowed. RecordFault: limit-out-of-range. */
export function pageLimit({ limit }: PageRequest): number {
  if (Number.isInteger(limit) && limit >= 1 && limit <= LARGEST_PAGE) return limit;
  throw new RecordFault('limit-out-of-range', { field: 'limit', value: limit }, `is not allowed; allowed: 1 to ${LARGEST_PAGE}`);
}

/**
 * Where the page before ended, null for the first page. `sort` is the order asked for, `kind` the type of the value it sorts by.
 * RecordFault: cursor-unreadable, cursor-of-another-sort.
 */
export function readCursor(request: Pick<PageRequest, 'cursor'>, sort: string, kind: 'time' | 'number' | 'text'): Position | null {
  const { cursor } = request;
  if (cursor === null || cursor === undefined) return null;
  const at = { field: 'cursor', value: cursor };
  const position = decode(cursor);
  if (!position) throw new RecordFault('cursor-unreadable', at, 'is not a cursor; allowed: nextCursor of the page before');
  if (position.sort !== sort) {
    throw new RecordFault('cursor-of-another-sort', at, `belongs to the order ${position.sort}; allowed: a cursor of the order ${sort}`);
  }
  const { value } = position;
  const fits =
    kind === 'number' ? typeof value === 'number' : typeof value === 'string' && (kind === 'text' || !Number.isNaN(Date.parse(value)));
  if (!fits) throw new RecordFault('cursor-unreadable', at, 'is not a cursor; allowed: nextCursor of the page before');
  return position;
}

/** The page of rows read with limit + 1, which shows whether there is another. */
export function toPage<Row, T>(rows: Row[], limit: number, position: (last: Row) => Position, item: (row: Row) => T): Page<T> {
  const shown = rows.slice(0, limit);
  return { items: shown.map(item), nextCursor: rows.length > limit ? cursorAt(position(shown[limit - 1])) : null };
}
