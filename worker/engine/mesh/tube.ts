/** A chain of vertices round a strut with growing angles. On a ring the last vertex is the first again, a full turn later. */
export interface Chain {
  readonly vertices: readonly number[];
  readonly phi: readonly number[];
}

/**
 * Triangles of the part of a strut's surface between two chains over the same angles, three vertices each, their front outwards. Of both chains the
 * vertex with the smaller angle is next, so an edge from one chain to the other never passes a vertex of either: whatever the chains' shapes,
 * triangles do not overlap as long as one lies wholly before the other, and none spans a wider angle than a chain's own step.
 */
export function between(lower: Chain, upper: Chain): number[][] {
  const found: number[][] = [];
  const [n, m] = [lower.vertices.length - 1, upper.vertices.length - 1];
  let [i, j] = [0, 0];
  const add = (a: number, b: number, c: number) => {
    if (a !== b && b !== c && c !== a) found.push([a, b, c]);
  };
  while (i < n || j < m) {
    const [a, b] = [lower.vertices[i], upper.vertices[j]];
    if (j === m || (i < n && lower.phi[i + 1] <= upper.phi[j + 1])) add(a, lower.vertices[++i], b);
    else add(a, upper.vertices[++j], b);
  }
  return found;
}

/** The same all the way round: the upper ring begins where it best faces the first vertex of the lower one. */
export function betweenRings(lower: Chain, upper: Chain): number[][] {
  const turn = 2 * Math.PI;
  const m = upper.vertices.length - 1;
  const shift = Math.floor((lower.phi[0] - upper.phi[0]) / turn) * turn;
  const angle = (k: number) => upper.phi[k % m] + shift + turn * Math.floor(k / m);
  let first = 0;
  while (angle(first + 1) <= lower.phi[0]) first++;
  const indices = Array.from({ length: m + 1 }, (_, k) => first + k);
  return between(lower, { vertices: indices.map((k) => upper.vertices[k % m]), phi: indices.map(angle) });
}

/** Puts vertices into a directed edge of one of the triangles, which falls into as many more. */
export function splitEdge(triangles: number[][], from: number, to: number, inner: readonly number[]): void {
  if (inner.length === 0) return;
  const k = triangles.findIndex((corners) => corners.some((v, i) => v === from && corners[(i + 1) % 3] === to));
  if (k < 0) return;
  const apex = triangles[k].find((v) => v !== from && v !== to)!;
  const path = [from, ...inner, to];
  triangles.splice(k, 1, ...path.slice(1).map((v, i) => [path[i], v, apex]));
}
