import type { Database } from './bound.ts';
import type { Design as StoredDesign } from './client/generated/client.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import type { Design } from './records.ts';
import type { Designs } from './repositories.ts';
import { DESIGN_WORDS, VERSION_WORDS, wordsAsked, wordsQuery } from './words.ts';

const plain = ({ newestVersion: _, ...design }: StoredDesign): Design => design;

/** $1 team, $2 and $3 the place of the last one, $4 limit. */
const LIST = `select d.id, d.team_id as "teamId", d.name, d.notes, d.tags, d.created_at as "createdAt", d.archived_at as "archivedAt" from app.design d
  where d.team_id = $1::uuid and d.archived_at is null and ($2::text is null or (d.created_at, d.id) < ($2::timestamptz, $3::uuid))`;
const NEWEST_FIRST = 'order by d.created_at desc, d.id desc limit $4';

/** Designs of any team, by their own words and by those of their versions. */
const withWords = (asked: string) => `select d.id from app.design d where ${DESIGN_WORDS} @@ ${asked}
  union all select v.design_id from app.version v where ${VERSION_WORDS} @@ ${asked}`;

export function designRepository(prisma: Database): Designs {
  const mine = async (teamId: string, id: string) => {
    const design = await prisma.design.findFirst({ where: { id, teamId } });
    return design && plain(design);
  };

  return {
    async create(teamId, design) {
      return plain(await prisma.design.create({ data: { teamId, ...design } }));
    },

    get: mine,

    async list(teamId, page) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-createdAt', 'time');
      const values: unknown[] = [teamId, after?.value ?? null, after?.id ?? null, limit + 1];
      const bound = (value: unknown) => `$${values.push(value)}`;
      const tagged = page.tag === undefined ? '' : ` and d.tags @> array[${bound(page.tag)}::text]`;
      const worded = page.words === undefined ? '' : ` and d.id in (${withWords(wordsQuery(bound(wordsAsked(page.words))))})`;
      const designs = await prisma.$queryRawUnsafe<Design[]>(`${LIST}${tagged}${worded} ${NEWEST_FIRST}`, ...values);
      return toPage(
        designs,
        limit,
        ({ createdAt, id }) => ({ sort: '-createdAt', value: createdAt.toISOString(), id }),
        (each) => each,
      );
    },

    async update(teamId, id, { name, notes, tags }) {
      await prisma.design.updateMany({ where: { id, teamId }, data: { name, notes, tags } });
      return mine(teamId, id);
    },

    async archive(teamId, id) {
      await prisma.design.updateMany({ where: { id, teamId, archivedAt: null }, data: { archivedAt: new Date() } });
      return mine(teamId, id);
    },
  };
}
