import type { ComponentChildren } from 'preact';
import { label } from '../words.ts';

/** Head of a column: words, or words with their unit over numbers that stand to the right. */
export type Head = string | { name: string; unit?: string };

/** Heads of columns of quantities, as they are labelled. */
export const quantityHeads = (quantities: readonly string[]): Head[] => quantities.map((each) => label(each));
export const numberHeads = (...names: readonly string[]): Head[] => names.map((name) => ({ name }));

export function Table({ heads, children }: { heads: readonly Head[]; children: ComponentChildren }) {
  return (
    <table>
      <thead>
        <tr>
          {heads.map((head) =>
            typeof head === 'string' ? (
              <th key={head} scope="col">
                {head}
              </th>
            ) : (
              <th key={head.name} scope="col" class="number">
                {head.name} {head.unit && <span class="unit">{head.unit}</span>}
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody>{children}</tbody>
    </table>
  );
}
