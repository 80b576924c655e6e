import type { SurfaceMesh } from './stitched.ts';

/** A closed outline: x and y in turn, mm; counter-clockwise where the solid lies inside it. */
export type Loop = readonly number[];

/** How far a plane that meets a vertex is moved, mm: below what any file tells. */
const AWAY_MM = 1e-7;

/** Outlines of a closed mesh at a height. Every triangle that the plane cuts gives one directed edge; of a closed mesh they form closed loops. */
export function sectionOf({ xyz, triangles }: SurfaceMesh, zMm: number): Loop[] {
  let z = zMm;
  for (let k = 2; k < xyz.length; k += 3) if (xyz[k] === z) z += AWAY_MM;
  const next = new Map<string, string>();
  const place = new Map<string, [number, number]>();
  /** The point where the plane cuts the edge of two vertices, the same from both sides. */
  const cut = (a: number, b: number): string => {
    const [low, high] = a < b ? [a, b] : [b, a];
    const key = `${low} ${high}`;
    if (!place.has(key)) {
      const share = (z - xyz[3 * low + 2]) / (xyz[3 * high + 2] - xyz[3 * low + 2]);
      const at = (k: number) => xyz[3 * low + k] + share * (xyz[3 * high + k] - xyz[3 * low + k]);
      place.set(key, [at(0), at(1)]);
    }
    return key;
  };
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const above = corners.map((v) => xyz[3 * v + 2] > z);
    const alone = above.findIndex((up, k) => up !== above[(k + 1) % 3] && up !== above[(k + 2) % 3]);
    if (alone < 0) continue;
    const [p, q, r] = [0, 1, 2].map((k) => corners[(alone + k) % 3]);
    const [first, second] = [cut(p, q), cut(r, p)];
    // Seen from above the solid is to be on the left.
    if (above[alone]) next.set(second, first);
    else next.set(first, second);
  }
  const loops: Loop[] = [];
  while (next.size > 0) {
    const loop: number[] = [];
    let key = next.keys().next().value!;
    while (next.has(key)) {
      loop.push(...place.get(key)!);
      const following = next.get(key)!;
      next.delete(key);
      key = following;
    }
    loops.push(loop);
  }
  return loops;
}
