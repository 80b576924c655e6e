import { distance, type Point } from './place.ts';

/**
 * Number of the group of each place: places nearer to each other than `within` (mm), directly or by way of others, are one. Groups are numbered in
 * order of their first places. `poll` is called at every place.
 */
export function weld(places: readonly Point[], within: number, poll: () => void): { group: Int32Array; firsts: number[] } {
  const root = Int32Array.from(places, (_, k) => k);
  const rootOf = (k: number): number => {
    while (root[k] !== k) k = root[k] = root[root[k]];
    return k;
  };
  const boxes = new Map<string, number[]>();
  const box = (x: number) => Math.floor(x / (4 * within));
  const around = (x: number) => [...new Set([box(x - within), box(x + within)])];
  for (const [k, [x, y, z]] of places.entries()) {
    poll();
    for (const bx of around(x)) {
      for (const by of around(y)) {
        for (const bz of around(z)) {
          for (const other of boxes.get(`${bx} ${by} ${bz}`) ?? []) {
            if (distance(places[other], places[k]) >= within) continue;
            const [a, b] = [rootOf(other), rootOf(k)];
            root[Math.max(a, b)] = Math.min(a, b);
          }
        }
      }
    }
    const own = `${box(x)} ${box(y)} ${box(z)}`;
    const list = boxes.get(own);
    if (list) list.push(k);
    else boxes.set(own, [k]);
  }
  const firsts: number[] = [];
  const number = new Map<number, number>();
  const group = root.map((_, k) => {
    const r = rootOf(k);
    if (!number.has(r)) number.set(r, firsts.push(r) - 1);
    return number.get(r)!;
  });
  return { group, firsts };
}
