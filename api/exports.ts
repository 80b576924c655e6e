import { Readable } from 'node:stream';
import { sortOf } from '../openapi/index.ts';
import type { Evaluations } from '../prisma/index.ts';
import { FORMATS } from './export-formats.ts';
import type { Handlers } from './handlers.ts';
import { conditionsOf } from './history.ts';

/**
 * Rows read at once: what is held in memory, however long the export is. Of larger pages more is still held when young objects are collected, and V8 then
 * tends to make the like of it among the old ones, which are collected only when there are many; smaller pages make that rarer.
 */
const PAGE = 250;

export const exportHandlers = (evaluations: Pick<Evaluations, 'exported'>): Handlers<'exportEvaluations'> => ({
  exportEvaluations: async ({ query, caller: { teamId } }) => {
    const { format } = query;
    const asked = { ...conditionsOf(query), sort: sortOf(query) };
    const { mediaType, begin } = FORMATS[format];
    const { head, rows, end } = begin();
    // rows live in here alone: those of one page are let go of before the next is read
    const written = async (cursor: string | null) => {
      const { items, nextCursor } = await evaluations.exported(teamId, { ...asked, limit: PAGE, cursor });
      return { piece: rows(items), nextCursor };
    };
    // the first page before anything is sent, so that what is wrong is answered as such
    const first = await written(null);
    async function* pieces() {
      yield head;
      for (let at = first; ; at = await written(at.nextCursor)) {
        yield at.piece;
        if (at.nextCursor === null) break;
      }
      yield end();
    }
    return {
      body: Readable.from(pieces(), { objectMode: false }),
      headers: { 'content-type': mediaType, 'content-disposition': `attachment; filename="evaluations.${format}"` },
    };
  },
});
