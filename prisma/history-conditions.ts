import type { Filter, Sort } from '../openapi/index.ts';
import { type AskedHistory, versionsMeant } from './history-versions.ts';
import { readCursor } from './page.ts';
import { columnOf } from './quantities.ts';

export const NEWEST_FIRST: Sort = { by: 'createdAt', descending: true };
const COMPARISONS: Record<Filter['op'], string> = { gte: '>=', gt: '>', lte: '<=', lt: '<', eq: '=' };

export const sortName = ({ by, descending }: Sort) => `${descending ? '-' : ''}${by}`;
export const sortColumn = (by: Sort['by']) => (by === 'createdAt' ? 'created_at' : columnOf(by));
/** An undertaking is of the team that its members are of. As an array they are read once, and an index then leads to each. */
const memberOf = (undertaking: string) =>
  `id = any(array(select m.evaluation_id from app.member m where m.undertaking_id = ${undertaking}))`;

/** The number at a path of an evaluation's result; null where something else stands there, as in results of older engines. */
const leafAt = (
  path: string,
) => `(select case when jsonb_typeof(c.result #> ${path}::text[]) = 'number' then (c.result #>> ${path}::text[])::double precision end
    from app.computation c where c.id = computation_id)`;

export interface Conditions {
  /** On the team, which comes first, and on what is sorted by: one stretch of an index. */
  readonly stretch: string[];
  /** On another number each, or on the time: a stretch of its index. */
  readonly numbers: ReadonlyMap<Sort['by'], string[]>;
  /** On anything else that the table holds. */
  readonly rest: string[];
  /** On numbers that only the results hold. */
  readonly leaves: string[];
  readonly values: unknown[];
}

/** Conditions of a query in SQL and their values; the columns are those of app.evaluation. */
export function conditions(teamId: string, query: Omit<AskedHistory, 'limit'>, sort: Sort = NEWEST_FIRST): Conditions {
  const values: unknown[] = [teamId];
  const bound = (value: unknown) => `$${values.push(value)}`;
  const stretch = ['team_id = $1'];
  const numbers = new Map<Sort['by'], string[]>();
  const rest: string[] = [];
  const hold = (by: Sort['by'], condition: string) => {
    if (by === sort.by) stretch.push(condition);
    else numbers.set(by, [...(numbers.get(by) ?? []), condition]);
  };
  const { status, verdict, material, engineVersion, designId, versionId } = query;
  const equal = { status, verdict, material, engine_version: engineVersion, design_id: designId, version_id: versionId };
  for (const [column, value] of Object.entries(equal)) if (value !== undefined) rest.push(`${column} = ${bound(value)}`);
  for (const id of query.undertakingIds ?? []) rest.push(memberOf(bound(id)));
  if (query.versionIds) rest.push(`version_id = any(${bound(query.versionIds)}::uuid[])`);
  else rest.push(...versionsMeant(query, bound).map((versions) => `version_id in (${versions.join(' union all ')})`));
  for (const { quantity, op, value } of query.filters ?? []) {
    hold(quantity, `${columnOf(quantity)} ${COMPARISONS[op]} ${bound(value)}`);
  }
  if (query.createdFrom !== undefined) hold('createdAt', `created_at >= ${bound(query.createdFrom)}::timestamptz`);
  if (query.createdTo !== undefined) hold('createdAt', `created_at <= ${bound(query.createdTo)}::timestamptz`);
  const leaves = (query.leaves ?? []).map(
    ({ path, op, value }) => `${leafAt(bound(path))} ${COMPARISONS[op]} ${bound(value)}::double precision`,
  );
  const column = sortColumn(sort.by);
  const timed = sort.by === 'createdAt';
  if (!timed) stretch.push(`${column} is not null`);
  const after = readCursor(query, sortName(sort), timed ? 'time' : 'number');
  if (after) {
    const value = `${bound(after.value)}::${timed ? 'timestamptz' : 'double precision'}`;
    stretch.push(`(${column}, id) ${sort.descending ? '<' : '>'} (${value}, ${bound(after.id)}::uuid)`);
  }
  return { stretch, numbers, rest, leaves, values };
}
