import type { StrutGraph } from './graph.ts';

/** Strut ends at each node: entries ptr[v] .. ptr[v+1] of `ends` are 2 * strut + (0 or 1, which end of it is at v). */
export interface Incidence {
  readonly ptr: Int32Array;
  readonly ends: Int32Array;
}

/** Counting sort of all strut ends by node; within a node in order of struts. */
export function incidence(graph: StrutGraph): Incidence {
  const ptr = new Int32Array(graph.nodeCount + 1);
  for (const node of graph.ends) ptr[node + 1]++;
  for (let node = 0; node < graph.nodeCount; node++) ptr[node + 1] += ptr[node];
  const next = ptr.slice();
  const ends = new Int32Array(graph.ends.length);
  graph.ends.forEach((node, end) => (ends[next[node]++] = end));
  return { ptr, ends };
}
