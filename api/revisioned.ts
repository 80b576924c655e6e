import type { PageQuery } from '../openapi/index.ts';
import type { Page, Revision, Revisions } from '../prisma/index.ts';
import type { Caller } from './handlers.ts';
import { found, Refusal } from './refusal.ts';

/** What every kind of revisioned record shares: built-in ones, the same for every team and read-only, and a team's own. */
export interface RevisionedOptions<Body extends { key: string }, Shown> {
  what: string;
  url: string;
  builtIn: readonly Shown[];
  own: Revisions<Body>;
  /** What is shown of an own record besides what was stored. */
  derived?(body: Body): Partial<Shown>;
}

interface Stored {
  key: string;
  revision: number;
  builtIn: boolean;
}

const MOST_KEYS = 100;

const shownOwn = <Body extends { key: string }>({ body, revision }: Revision<Body>) => ({ ...body, revision, builtIn: false });

/** The routes of one kind of record, and the search by key that evaluations need. `Shown` is the body with revision and builtIn. */
export function revisioned<Body extends { key: string }, Shown extends Body & Stored>(options: RevisionedOptions<Body, Shown>) {
  const { what, url, builtIn, own, derived = () => ({}) } = options;
  const show = (revision: Revision<Body>) => ({ ...shownOwn(revision), ...derived(revision.body) }) as Shown;

  const find = async (teamId: string, key: string, revision?: number): Promise<Shown | null> => {
    const fixed = builtIn.find((each) => each.key === key);
    if (fixed) return revision === undefined || revision === fixed.revision ? fixed : null;
    const stored = await own.get(teamId, key, revision);
    return stored && show(stored);
  };

  const refuseBuiltIn = (key: string) => {
    if (!builtIn.some((each) => each.key === key)) return;
    const detail = `is the key of a built-in ${what}, which cannot be changed; allowed: any other key`;
    throw new Refusal('key-taken', { errors: [{ pointer: '/key', value: key, detail }] });
  };

  return {
    find,
    /** Keys that can be named, the built-in ones first; of the own ones at most MOST_KEYS. */
    keys: async (teamId: string): Promise<string[]> => {
      const { items } = await own.list(teamId, { limit: MOST_KEYS });
      return [...builtIn, ...items].map((each) => each.key);
    },
    create: async ({ body, caller }: { body: Body; caller: Caller }) => {
      refuseBuiltIn(body.key);
      const stored = show(await own.create(caller.teamId, body));
      return { body: stored, location: `${url}/${stored.key}?revision=${stored.revision}` };
    },
    get: async ({ params, query, caller }: { params: { key: string }; query: { revision?: number }; caller: Caller }) => ({
      body: found(await find(caller.teamId, params.key, query.revision), what),
    }),
    archive: async ({ params, caller }: { params: { key: string }; caller: Caller }) => {
      refuseBuiltIn(params.key);
      const stored = found(await find(caller.teamId, params.key), what);
      await own.archive(caller.teamId, params.key);
      return { body: stored };
    },
    list: async ({ query, caller }: { query: PageQuery; caller: Caller }) => ({
      body: await bothPages(builtIn, query, async (page) => {
        const { items, nextCursor } = await own.list(caller.teamId, page);
        return { items: items.map(show), nextCursor };
      }),
    }),
  };
}

const IN_BUILT_IN = /^builtin-(\d{1,4})$/;
const IN_OWN = 'own-';

/** One list out of two: the fixed items first, then the pages of the others. The cursor says which of the two it points into. */
async function bothPages<T>(
  fixed: readonly T[],
  { limit, cursor = 'builtin-0' }: PageQuery,
  others: (page: { limit: number; cursor: string | null }) => Promise<Page<T>>,
): Promise<Page<T>> {
  const offset = IN_BUILT_IN.exec(cursor)?.[1];
  if (offset === undefined && !cursor.startsWith(IN_OWN)) throw unreadable(cursor);
  const items = offset === undefined ? [] : fixed.slice(Number(offset), Number(offset) + limit);
  if (items.length === limit) return { items, nextCursor: `builtin-${Number(offset) + limit}` };
  const rest = await others({ limit: limit - items.length, cursor: offset === undefined ? cursor.slice(IN_OWN.length) : null });
  return { items: [...items, ...rest.items], nextCursor: rest.nextCursor && IN_OWN + rest.nextCursor };
}

const unreadable = (cursor: string) =>
  new Refusal('invalid-query', {
    errors: [{ pointer: '/cursor', value: cursor, detail: 'cannot be read; allowed: the nextCursor of an earlier page' }],
  });
