/** Points as columns: coordinate j of all of them. */
export type Columns = readonly Float64Array[];

export interface Contest {
  /** Those that may dominate. Each is at most as large as each of `of` in every coordinate that is no longer looked at. */
  readonly by: Uint32Array;
  readonly of: Uint32Array;
  /** Coordinates still to be looked at: 1 to coordinates - 1, as the order of the points settles coordinate 0. */
  readonly coordinates: number;
}

/** Up to this many pairs all are compared. */
const FEW_PAIRS = 256;

/** Marks in `gone` those of `of` that one of `by` is at most as large as in all coordinates still to be looked at. */
export function markDominated(columns: Columns, contest: Contest, gone: Uint8Array): void {
  const { by, coordinates: k } = contest;
  const of = contest.of.filter((b) => !gone[b]);
  if (by.length === 0 || of.length === 0) return;
  if (k === 1) for (const b of of) gone[b] = 1;
  else if (by.length * of.length <= FEW_PAIRS || by.length === 1) compareAll(columns, { by, of, coordinates: k }, gone);
  else if (k === 2) compareLeast(columns[1], by, of, gone);
  else if (k === 3) sweep(columns, by, of, gone);
  else divide(columns, { by, of, coordinates: k }, gone);
}

function compareAll(columns: Columns, { by, of, coordinates: k }: Contest, gone: Uint8Array): void {
  for (const b of of)
    for (const a of by) {
      let j = 1;
      while (j < k && columns[j][a] <= columns[j][b]) j++;
      if (j < k) continue;
      gone[b] = 1;
      break;
    }
}

function compareLeast(x: Float64Array, by: Uint32Array, of: Uint32Array, gone: Uint8Array): void {
  let least = Number.POSITIVE_INFINITY;
  for (const a of by) least = Math.min(least, x[a]);
  for (const b of of) if (least <= x[b]) gone[b] = 1;
}

/** Coordinates 1 and 2 alone: in the order of 1, the least 2 so far of `by` decides. */
function sweep([, x, y]: Columns, by: Uint32Array, of: Uint32Array, gone: Uint8Array): void {
  const before = by.slice().sort((a, b) => x[a] - x[b]);
  let [next, least] = [0, Number.POSITIVE_INFINITY];
  for (const b of of.sort((a, c) => x[a] - x[c])) {
    while (next < before.length && x[before[next]] <= x[b]) least = Math.min(least, y[before[next++]]);
    if (least <= y[b]) gone[b] = 1;
  }
}

/** Cut in two by the last coordinate: low against low, high against high, and low against high without that coordinate. */
function divide(columns: Columns, { by, of, coordinates: k }: Contest, gone: Uint8Array): void {
  const last = columns[k - 1];
  const cut = cutOf(last, by, of);
  if (cut === null) {
    markDominated(columns, { by, of, coordinates: k - 1 }, gone);
    return;
  }
  const lowBy = by.filter((a) => last[a] <= cut);
  const highOf = of.filter((b) => last[b] > cut);
  markDominated(columns, { by: lowBy, of: of.filter((b) => last[b] <= cut), coordinates: k }, gone);
  markDominated(columns, { by: by.filter((a) => last[a] > cut), of: highOf, coordinates: k }, gone);
  markDominated(columns, { by: lowBy, of: highOf, coordinates: k - 1 }, gone);
}

/** A value near the middle with something above it; null: all are equal. */
function cutOf(x: Float64Array, by: Uint32Array, of: Uint32Array): number | null {
  const values = new Float64Array(by.length + of.length);
  for (let i = 0; i < by.length; i++) values[i] = x[by[i]];
  for (let i = 0; i < of.length; i++) values[by.length + i] = x[of[i]];
  values.sort();
  let at = (values.length - 1) >> 1;
  const most = values[values.length - 1];
  while (at >= 0 && values[at] === most) at--;
  return at < 0 ? null : values[at];
}
