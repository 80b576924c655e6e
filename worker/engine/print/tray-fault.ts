import type { TrayPart } from './tray-types.ts';
import type { PrintFault } from './types.ts';

/** Most copies and most different parts planned in one tray: each size is searched for by itself, and more of both take too long. */
const MOST_COPIES = 240;
const MOST_PARTS = 24;

/** Why a list of parts cannot be planned at all, or null: names the field, the value and what is allowed. */
export function trayFault(parts: readonly TrayPart[]): PrintFault | null {
  if (parts.length === 0 || parts.length > MOST_PARTS)
    return refused('parts', `a list of ${parts.length}`, `1 to ${MOST_PARTS} different parts`);
  const bad = parts.findIndex(({ count }) => !Number.isInteger(count) || count < 1);
  if (bad >= 0) return refused(`parts/${bad}/count`, parts[bad].count, 'a whole number, at least 1');
  const total = parts.reduce((sum, { count }) => sum + count, 0);
  if (total > MOST_COPIES) return refused('parts', `a list of ${total} copies`, `at most ${MOST_COPIES} copies in one tray`);
  return usedTwice(parts, 'id') ?? usedTwice(parts, 'markedName');
}

function usedTwice(parts: readonly TrayPart[], field: 'id' | 'markedName'): PrintFault | null {
  const at = parts.findIndex((part, i) => parts.slice(0, i).some((other) => other[field] === part[field]));
  return at < 0 ? null : refused(`parts/${at}/${field}`, parts[at][field], 'one that no other part of the tray has');
}

const refused = (field: string, value: unknown, allowed: string): PrintFault => ({
  code: 'refused-tray',
  message: `${field} is ${value}; allowed: ${allowed}.`,
  details: { field, value, allowed },
});
