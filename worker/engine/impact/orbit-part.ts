import type { SelfMap } from './stabiliser.ts';

/** One node and one strut of each orbit of a graph under its maps; in its own numbers nodes come in the given order, then ghosts. */
export interface OrbitPart {
  /** The lowest of its orbit each. */
  readonly nodes: Int32Array;
  readonly struts: Int32Array;
  /** Nodes of the struts' ends in the part's own numbers, 2 each. */
  readonly ends: Int32Array;
  /** Nodes at the far ends of those struts that are images of chosen ones: of which, by which map. */
  readonly ghosts: readonly { readonly of: number; readonly map: number }[];
  /** Chosen nodes that some maps leave in place. */
  readonly fixed: readonly { readonly node: number; readonly maps: readonly number[] }[];
  /** One over how many maps leave a node or strut in place: with these shares all sums are 1 / (order of the group) of the whole's. */
  readonly nodeShare: Float64Array;
  readonly strutShare: Float64Array;
}

/** The part of a graph that tells all of it where maps leave everything as it is; the first map is the identity. */
export function orbitPart(
  { nodeCount, strutCount, ends: wholeEnds }: { readonly nodeCount: number; readonly strutCount: number; readonly ends: Int32Array },
  maps: readonly Pick<SelfMap, 'nodes' | 'struts'>[],
): OrbitPart {
  const nodeImages = maps.map((map) => map.nodes);
  const strutImages = maps.map((map) => map.struts);
  const isFirst = (images: readonly Int32Array[]) => (k: number) => images.every((image) => image[k] >= k);
  const nodes = Int32Array.from({ length: nodeCount }, (_, v) => v).filter(isFirst(nodeImages));
  const struts = Int32Array.from({ length: strutCount }, (_, s) => s).filter(isFirst(strutImages));
  const stays = (images: readonly Int32Array[], k: number) => images.flatMap((image, g) => (image[k] === k ? [g] : []));

  const numberOf = new Int32Array(nodeCount).fill(-1);
  nodes.forEach((node, k) => (numberOf[node] = k));
  const imageOf = new Int32Array(2 * nodeCount);
  nodeImages.forEach((image, g) => nodes.forEach((node, k) => imageOf.set([k, g], 2 * image[node])));
  const ghosts: { of: number; map: number }[] = [];
  const numbered = (node: number) => {
    if (numberOf[node] < 0) {
      numberOf[node] = nodes.length + ghosts.length;
      ghosts.push({ of: imageOf[2 * node], map: imageOf[2 * node + 1] });
    }
    return numberOf[node];
  };
  const ends = Int32Array.from({ length: 2 * struts.length }, (_, k) => numbered(wholeEnds[2 * struts[k >> 1] + (k & 1)]));
  return {
    ...{ nodes, struts, ends, ghosts },
    fixed: Array.from(nodes, (each, node) => ({ node, maps: stays(nodeImages, each) })).filter((each) => each.maps.length > 1),
    nodeShare: Float64Array.from(nodes, (node) => 1 / stays(nodeImages, node).length),
    strutShare: Float64Array.from(struts, (s) => 1 / stays(strutImages, s).length),
  };
}
