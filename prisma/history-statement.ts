import type { Sort } from '../openapi/index.ts';
import { SUMMARY_COLUMNS } from './evaluation-rows.ts';
import { type Conditions, conditions, NEWEST_FIRST, sortColumn } from './history-conditions.ts';
import type { AskedHistory } from './history-versions.ts';
import { pageLimit } from './page.ts';

/**
 * So many rows are looked at in the order asked for before all that the other conditions mean are looked up and sorted. In the order of time they lie side
 * by side, in any other each on a page of its own; where an index holds all that is asked, to go on to it costs little.
 */
const LOOKED_AT = { time: 20_000, number: 4000, held: 1000 };

/** A client's object gives size and mass, so their bands lead most questions: their indexes hold the columns of HELD too, and status, verdict and material. */
export const LEADING = new Set<Sort['by']>(['massG', 'outsideDiameterMm', 'circumferenceMm']);
export const HELD = new Set<Sort['by']>([
  'createdAt',
  'massG',
  'stiffnessNPerMm',
  'reboundHeightMm',
  'peakForceN',
  'cyclesToFailure',
  'totalPerPart',
]);

/** Few rows, or an index that holds the order too. */
const isNarrow = ({ designId, versionId, undertakingIds, versionIds }: AskedHistory) =>
  Boolean(designId ?? versionId ?? undertakingIds?.[0] ?? versionIds);
const hasOwnOrder = ({ status, verdict, material, engineVersion, sort = NEWEST_FIRST }: AskedHistory, others: number) =>
  others === 0 || (others === 1 && sort.by === 'createdAt' && (status ?? verdict ?? material ?? engineVersion) !== undefined);

/** Whether the index of one number holds all that is asked. */
function isHeld({ tag, words, engineVersion, sort = NEWEST_FIRST }: AskedHistory, { numbers }: Conditions): boolean {
  const bounded = [...numbers.keys()];
  const leading = bounded.find((by) => LEADING.has(by));
  return (
    leading !== undefined &&
    [sort.by, ...bounded].every((by) => by === leading || HELD.has(by)) &&
    (tag ?? words ?? engineVersion) === undefined
  );
}

/**
 * SQL: the first evaluations that a question means in its order, `limit` of them. How numbers hang together nobody tells the server, so it cannot know
 * whether the first fifty in an order are soon found or only behind all the others: a stretch of the order is looked at, and when that does not fill the
 * page, the other conditions lead.
 */
export function pageStatement(query: AskedHistory, asked: Conditions, limit: number): string {
  const { by, descending } = query.sort ?? NEWEST_FIRST;
  const { stretch, numbers, rest } = asked;
  const direction = descending ? 'desc' : 'asc';
  const order = `order by ${sortColumn(by)} ${direction}, id ${direction}`;
  const others = [...[...numbers.values()].flat(), ...rest];
  const all = [...stretch, ...others].join(' and ');
  if (hasOwnOrder(query, others.length)) return `select * from app.evaluation where ${all} ${order} limit ${limit}`;
  if (query.versionIds && by === 'createdAt' && others.length === 1) return ofIds(ofVersions(asked, order), { order, limit });
  const sorted = `select * from (select * from app.evaluation where ${all} offset 0) led ${order} limit ${limit}`;
  if (isNarrow(query)) return sorted;
  const held = isHeld(query, asked);
  const lookedAt = LOOKED_AT[by === 'createdAt' ? 'time' : held ? 'held' : 'number'];
  const looked = `select * from app.evaluation where ${stretch.join(' and ')} ${order} limit ${lookedAt}`;
  const late = held
    ? ofIds(`select id from (select id, ${sortColumn(by)} from app.evaluation where ${all} offset 0) led ${order}`, { order, limit })
    : numbers.size > 0
      ? `${crossed(asked, sortColumn(by), direction)} limit ${limit}`
      : sorted;
  return `with soon as materialized (select * from (${looked}) looked where ${others.join(' and ')} ${order} limit ${limit})
    select * from soon where (select count(*) from soon) = ${limit}
    union all select * from (${late}) late where (select count(*) from soon) < ${limit}`;
}

/**
 * SQL: each index of a number holds the evaluations' ids, so stretches of them are crossed without a look at the table, in the order asked for, and
 * what remains is looked up one by one until a page is full. `is true` keeps the server from turning the crossing into a join, which it would sort.
 */
function crossed({ stretch, numbers, rest }: Conditions, column: string, direction: string): string {
  const within = [...numbers.values()].map(
    (each) => `(id in (select id from app.evaluation where team_id = $1 and ${each.join(' and ')})) is true`,
  );
  const walk = `select id as at, ${column} as place from app.evaluation where ${[...stretch, ...within].join(' and ')} order by place ${direction}, at ${direction} offset 0`;
  return `select found.* from (${walk}) walk cross join lateral (select * from app.evaluation where ${['id = at', ...rest].join(' and ')} offset 0) found
    order by place ${direction}, at ${direction}`;
}

/** SQL: of the team's own versions alone the index of each tells order and id. */
function ofVersions({ stretch, rest }: Conditions, order: string): string {
  const known = ['$1::uuid is not null', ...stretch.slice(1), ...rest].join(' and ');
  return `select id from app.evaluation where ${known} ${order}`;
}

/** SQL: where indexes alone tell ids and order, only what is shown is looked up in the table. */
const ofIds = (ids: string, { order, limit }: { order: string; limit: number }): string =>
  `select * from app.evaluation where id = any(array(${ids} limit ${limit})) ${order}`;

/** The statement of one page: the page is cut from the evaluations alone, then completed. */
export function historyStatement(teamId: string, query: AskedHistory, more = ''): { text: string; values: unknown[] } {
  const sort = query.sort ?? NEWEST_FIRST;
  const direction = sort.descending ? 'desc' : 'asc';
  const asked = conditions(teamId, query, sort);
  const text = `select ${SUMMARY_COLUMNS}${more} from (${pageStatement(query, asked, pageLimit(query) + 1)}) e
    join app.computation c on c.id = e.computation_id left join app.version v on v.id = e.version_id
    order by e.${sortColumn(sort.by)} ${direction}, e.id ${direction}`;
  return { text, values: asked.values };
}
