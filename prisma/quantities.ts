import { FILTERABLE, QUANTITIES, type Quantity } from '../openapi/index.ts';
import type { Computed } from './run-records.ts';

export type Quantities = Record<Quantity, number | null>;

/** Every number found along a dotted path; a path runs through all items of an array. */
function numbersAt(value: unknown, path: string[]): number[] {
  if (Array.isArray(value)) return value.flatMap((item) => numbersAt(item, path));
  const [name, ...rest] = path;
  if (name === undefined) return typeof value === 'number' ? [value] : [];
  return typeof value === 'object' && value !== null ? numbersAt((value as Record<string, unknown>)[name], rest) : [];
}

/** The numbers that history filters and sorts by; null where the result holds none, the least where it holds several. */
export function quantitiesOf(result: Computed): Quantities {
  const least = (quantity: Quantity) => {
    const found = numbersAt(result, FILTERABLE[quantity].split('.'));
    return found.length > 0 ? Math.min(...found) : null;
  };
  return Object.fromEntries(QUANTITIES.map((quantity) => [quantity, least(quantity)])) as Quantities;
}

/** Column of app.evaluation that holds a quantity: its name in snake case. */
export const columnOf = (quantity: Quantity): string =>
  quantity
    .replace('.', '_')
    .replace(/[A-Z]/g, (letter) => `_${letter}`)
    .toLowerCase();

export const QUANTITY_COLUMNS = QUANTITIES.map(columnOf);

/** SQL: the quantities of a jsonb object as double precision values, in the order of QUANTITY_COLUMNS. */
export const quantityValues = (json: string): string =>
  QUANTITIES.map((quantity) => `(${json} ->> '${quantity}')::double precision`).join(', ');

/** The quantities of a row of app.evaluation. Every row of an export passes here, so no list of pairs is made. */
export function quantitiesOfRow(row: Record<string, unknown>): Quantities {
  const quantities: Partial<Record<Quantity, unknown>> = {};
  for (const [k, quantity] of QUANTITIES.entries()) quantities[quantity] = row[QUANTITY_COLUMNS[k]];
  return quantities as Quantities;
}
