/** Triangles with an edge that no other triangle has once in the opposite sense; none of a closed, oriented surface. */
export function openEdges(triangles: Uint32Array, vertices: number): number[] {
  const keys = new Float64Array(triangles.length);
  const reversed = new Float64Array(triangles.length);
  for (let k = 0; k < triangles.length; k++) {
    const [a, b] = edgeAt(triangles, k);
    keys[k] = a * vertices + b;
    reversed[k] = b * vertices + a;
  }
  keys.sort();
  reversed.sort();
  if (keys.every((key, k) => key === reversed[k] && key !== keys[k + 1])) return [];
  const count = new Map<number, number>();
  for (const key of keys) count.set(key, (count.get(key) ?? 0) + 1);
  const found = new Set<number>();
  for (let k = 0; k < triangles.length; k++) {
    const [a, b] = edgeAt(triangles, k);
    if (count.get(a * vertices + b) !== 1 || count.get(b * vertices + a) !== 1) found.add(Math.floor(k / 3));
  }
  return [...found];
}

const edgeAt = (triangles: Uint32Array, k: number): [number, number] => [triangles[k], triangles[k % 3 === 2 ? k - 2 : k + 1]];
