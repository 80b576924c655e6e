import { Readable } from 'node:stream';
import { sortOf } from '../openapi/index.ts';
import type { Evaluations } from '../prisma/index.ts';
import { FORMATS } from './export-formats.ts';
import type { Handlers } from './handlers.ts';
import { conditionsOf } from './history.ts';

/** Rows read at once: what is held in memory, however long the export is. */
const PAGE = 500;

export const exportHandlers = (evaluations: Pick<Evaluations, 'exported'>): Handlers<'exportEvaluations'> => ({
  exportEvaluations: async ({ query, caller: { teamId } }) => {
    const { format } = query;
    const asked = { ...conditionsOf(query), sort: sortOf(query) };
    const page = (cursor: string | null) => evaluations.exported(teamId, { ...asked, limit: PAGE, cursor });
    // the first page before anything is sent, so that what is wrong is answered as such
    const first = await page(null);
    async function* pages() {
      for (let at = first; ; at = await page(at.nextCursor)) {
        yield at.items;
        if (at.nextCursor === null) return;
      }
    }
    const { mediaType, write } = FORMATS[format];
    return {
      body: Readable.from(write(pages()), { objectMode: false }),
      headers: { 'content-type': mediaType, 'content-disposition': `attachment; filename="evaluations.${format}"` },
    };
  },
});
