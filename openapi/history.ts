import { z } from 'zod';
import { identifier, timestamp } from './common.ts';
import { tag } from './design.ts';
import { evaluationStatus } from './evaluation.ts';
import { QUANTITIES, type Quantity } from './quantities.ts';
import { cursor, limit, numeric } from './query.ts';
import { verdict } from './result.ts';

export const OPERATORS = ['gte', 'gt', 'lte', 'lt', 'eq'] as const;
export type Operator = (typeof OPERATORS)[number];
export type FilterName = `${Quantity}.${Operator}`;
export interface Filter {
  quantity: Quantity;
  op: Operator;
  value: number;
}
export interface Sort {
  by: 'createdAt' | Quantity;
  descending: boolean;
}

const names = QUANTITIES.flatMap((quantity) => OPERATORS.map((op): FilterName => `${quantity}.${op}`));
const filter = numeric(z.number()).optional();
const filters = Object.fromEntries(names.map((name) => [name, filter])) as Record<FilterName, typeof filter>;

const sorts = ['createdAt', ...QUANTITIES].flatMap((by) => [by, `-${by}`]) as [string, ...string[]];

/** Query of the history: `massG.gte=300&massG.lte=320&sort=-reboundHeightMm&limit=50`. */
export const historyQuery = z
  .strictObject({
    status: evaluationStatus.optional(),
    verdict: verdict.optional(),
    designId: identifier.optional(),
    versionId: identifier.optional(),
    batchId: identifier.optional(),
    searchId: identifier.optional(),
    tag: tag.optional().meta({ description: 'Evaluations of versions that have this tag, or whose design has it' }),
    'createdAt.gte': timestamp.optional(),
    'createdAt.lte': timestamp.optional(),
    sort: z
      .enum(sorts)
      .default('-createdAt')
      .meta({
        description:
          'A quantity or createdAt; a leading hyphen sorts downwards. Sorted by a quantity, evaluations that have no such number are left out',
        'x-allowed': `createdAt or one of ${QUANTITIES.join(', ')}, with a leading hyphen to sort downwards`,
      }),
    limit,
    cursor: cursor.optional(),
    ...filters,
  })
  .meta({
    'x-allowed': `status, verdict, designId, versionId, batchId, searchId, tag, createdAt.gte, createdAt.lte, sort, limit, cursor, and a quantity with .${OPERATORS.join(', .')}, where a quantity is one of ${QUANTITIES.join(', ')}`,
  });
export type HistoryQuery = z.infer<typeof historyQuery>;

export const EXPORT_FORMATS = ['csv', 'ndjson', 'parquet'] as const;
/** An export takes the same filters; it has no pages. */
export const exportQuery = historyQuery.omit({ limit: true, cursor: true }).extend({ format: z.enum(EXPORT_FORMATS).default('csv') });
export type ExportQuery = z.infer<typeof exportQuery>;

/** The filters of a checked query, in the order of the quantities. */
export function filtersOf(query: Omit<HistoryQuery, 'sort' | 'limit' | 'cursor'>): Filter[] {
  return QUANTITIES.flatMap((quantity) =>
    OPERATORS.flatMap((op) => {
      const value = query[`${quantity}.${op}`];
      return value === undefined ? [] : [{ quantity, op, value }];
    }),
  );
}

/** The order a checked query asks for. */
export function sortOf(query: Pick<HistoryQuery, 'sort'>): Sort {
  const descending = query.sort.startsWith('-');
  return { by: (descending ? query.sort.slice(1) : query.sort) as Sort['by'], descending };
}
