import { incidence, type StrutGraph } from '../lattice/index.ts';

/** Number of separate parts of a graph; a node without struts is a part of its own. */
export function partsOf(graph: StrutGraph): number {
  const { ptr, ends } = incidence(graph);
  const seen = new Uint8Array(graph.nodeCount);
  let parts = 0;
  for (let first = 0; first < graph.nodeCount; first++) {
    if (seen[first]) continue;
    parts++;
    seen[first] = 1;
    const open = [first];
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      for (let k = ptr[node]; k < ptr[node + 1]; k++) {
        const other = graph.ends[ends[k] ^ 1];
        if (!seen[other]) {
          seen[other] = 1;
          open.push(other);
        }
      }
    }
  }
  return parts;
}
