import { z } from 'zod';
import { identifier, recordKey, timestamp } from './common.ts';
import { tag } from './design.ts';
import { evaluationStatus, evaluationSummary } from './evaluation.ts';
import { OPERATORS, type Operator, withLeaves } from './leaf-filters.ts';
import { QUANTITIES, type Quantity } from './quantities.ts';
import { cursor, limit, numeric, pageOf } from './query.ts';
import { verdict } from './result.ts';

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

const LONGEST_SEARCH = 200;
export const searchText = z.string().trim().min(1).max(LONGEST_SEARCH).meta({
  description:
    'Words that all must occur, the last one perhaps only begun; words between quotes stand together, one after a hyphen must not occur',
});

/** What the history, its exports and its fronts filter by. */
const historyFilters = z
  .strictObject({
    status: evaluationStatus.optional(),
    verdict: verdict.optional(),
    designId: identifier.optional(),
    versionId: identifier.optional(),
    batchId: identifier.optional(),
    searchId: identifier.optional(),
    reevaluationId: identifier.optional(),
    tag: tag.optional().meta({ description: 'Evaluations of versions that have this tag, or whose design has it' }),
    q: searchText
      .optional()
      .meta({ description: `Evaluations of versions whose notes, or whose design's name and notes, have these words` }),
    material: recordKey.optional().meta({ description: 'Key of the material, whatever its revision' }),
    engineVersion: z
      .string()
      .regex(/^\d{1,4}(?:\.\d{1,4}){2}$/, 'three numbers with dots, such as 1.4.0')
      .optional()
      .meta({ description: 'What it was computed with' }),
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
    'x-allowed': `status, verdict, designId, versionId, batchId, searchId, reevaluationId, tag, q, material, engineVersion, createdAt.gte, createdAt.lte, sort, limit, cursor, and a quantity or the dotted path of a number in a result with .${OPERATORS.join(', .')}, where a quantity is one of ${QUANTITIES.join(', ')}`,
  });

/** Query of the history: `massG.gte=300&massG.lte=320&sort=-reboundHeightMm&limit=50`. */
export const historyQuery = withLeaves(historyFilters);
export type HistoryQuery = z.infer<typeof historyQuery>;
/** For what takes the same filters and no pages. */
export const historyFiltersAlone = historyFilters.omit({ sort: true, limit: true, cursor: true });

export const EXPORT_FORMATS = ['csv', 'ndjson', 'parquet'] as const;
/** An export takes the same filters; it has no pages. */
export const exportQuery = withLeaves(
  historyFilters.omit({ limit: true, cursor: true }).extend({ format: z.enum(EXPORT_FORMATS).default('csv') }),
);
export type ExportQuery = z.infer<typeof exportQuery>;

/** How many evaluations were looked at for bounds on numbers that no index holds. */
export const scan = z
  .strictObject({
    lookedAt: z.int().min(0),
    complete: z.boolean().meta({ description: 'false: there are more, at which the next page looks, even where this one is empty' }),
  })
  .meta({ id: 'Scan', description: 'There where a bound on the dotted path of a number is asked for' });
export type Scan = z.infer<typeof scan>;
export const historyPage = pageOf(evaluationSummary).extend({ scan: scan.optional() });

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
