import type { HistoryQuery } from './run-repositories.ts';
import type { Sql } from './transaction.ts';
import { DESIGN_WORDS, VERSION_WORDS, wordsAsked, wordsQuery } from './words.ts';

/** A question with the versions that its tag and its words mean, where those are few enough to be named. */
export interface AskedHistory extends HistoryQuery {
  versionIds?: readonly string[] | null;
}

/** With more versions, evaluations are looked at in the order asked for, and the versions of those are looked up. */
const FEW = 1000;

/** Of each condition on versions two queries that together give the ids of those that are meant: by the version itself, by its design. The team is $1. */
export function versionsMeant({ tag, words }: Pick<HistoryQuery, 'tag' | 'words'>, bound: (value: unknown) => string): [string, string][] {
  const both = (ofVersion: string, ofDesign: string): [string, string] => [
    `select v.id from app.version v join app.design d on d.id = v.design_id where d.team_id = $1 and ${ofVersion}`,
    `select v.id from app.design d join app.version v on v.design_id = d.id where d.team_id = $1 and ${ofDesign}`,
  ];
  const meant: [string, string][] = [];
  if (tag !== undefined) {
    const tags = `array[${bound(tag)}::text]`;
    meant.push(both(`v.tags @> ${tags}`, `d.tags @> ${tags}`));
  }
  if (words !== undefined) {
    const asked = wordsQuery(bound(wordsAsked(words)));
    meant.push(both(`${VERSION_WORDS} @@ ${asked}`, `${DESIGN_WORDS} @@ ${asked}`));
  }
  return meant;
}

/** Looks up the versions that are meant, as long as they are few: their evaluations are then found by an index. */
export async function withVersions(sql: Sql, teamId: string, query: HistoryQuery): Promise<AskedHistory> {
  const values: unknown[] = [teamId];
  const [first, ...others] = versionsMeant(query, (value) => `$${values.push(value)}`);
  if (!first) return query;
  const also = others.map((each) => ` and id in (${each.join(' union all ')})`).join('');
  const text = `select id from (${first.join(' union all ')}) meant where true${also} limit ${FEW + 1}`;
  const { rows } = await sql.query(text, values);
  return { ...query, versionIds: rows.length > FEW ? null : [...new Set(rows.map(({ id }) => id as string))] };
}
