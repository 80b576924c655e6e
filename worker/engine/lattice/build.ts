import type { Tiling } from '../tiling/index.ts';
import { draftGraph, type GraphDraft } from './draft.ts';
import type { Lattice } from './graph.ts';
import { gradientFactor, type ParameterSet, type Shaping } from './parameter-set.ts';
import { checkParameters, type Refusal } from './refusal.ts';
import { findSymmetry } from './symmetry.ts';

/**
 * Puts layers of struts on a tiling and links them: node v of layer k lies along the tiling's node v at radius R0 - depth(k), where R0 = outside
 * radius less the radius of layer 0's largest node sphere. Every edge of the tiling is a member in every layer; `posts` joins node v of layer k
 * to node v of layer k + 1; `braced` adds both diagonals of every quadrilateral between neighbouring posts, joined by a node where they cross.
 * A tapered member gets a node at mid-span. Returns a refusal, naming the parameter, where the closed-form limits are not met.
 */
export function buildLattice(set: ParameterSet, tiling: Tiling): Lattice | Refusal {
  const refusal = checkParameters(set, tiling.T);
  if (refusal) return refusal;
  const { layers, links } = set;
  const nodeRadiusMm = layers.map((layer) => outerRadius(set, tiling) - layer.depthMm);
  const draft = draftGraph();
  for (const radius of nodeRadiusMm) {
    for (let v = 0; v < tiling.nodeCount; v++) {
      draft.addNode(radius * tiling.xyz[3 * v], radius * tiling.xyz[3 * v + 1], radius * tiling.xyz[3 * v + 2]);
    }
  }
  const members = membersOf(set, tiling);
  const spans = addSpans(draft, members, set.carrier.outsideDiameterMm / 2);
  const linked = links.pattern !== 'none';
  if (links.pattern === 'braced') addBraces(draft, set, tiling);
  const graph = draft.finish([
    ...layers.map((_, k) => `layer-${k}`),
    ...(linked ? ['link'] : []),
    ...(links.pattern === 'braced' ? ['brace'] : []),
  ]);
  return {
    graph,
    symmetry: findSymmetry(graph, tiling.symmetry.rotations),
    layerCount: layers.length,
    nodeRadiusMm,
    nodesPerLayer: tiling.nodeCount,
    strutsPerLayer: tiling.edgeCount,
    linked,
    braced: links.pattern === 'braced',
    ...spans,
    edges: tiling.edges,
    cellCount: tiling.cellCount,
    cellPtr: tiling.cellPtr,
    cellNodes: tiling.cellNodes,
    cellStruts: tiling.cellEdges,
  };
}

/** Node radius of layer 0: with a gradient the largest sphere depends on where the nodes are, and they on it; the relation is linear per node. */
function outerRadius({ carrier, layers, links }: ParameterSet, tiling: Tiling): number {
  const outside = carrier.outsideDiameterMm / 2;
  const shaped: [number, Shaping][] = [[layers[0].strutDiameterMm, layers[0]]];
  if (links.pattern !== 'none') shaped.push([links.strutDiameterMm!, links]);
  return Math.min(...shaped.map(([diameter, shaping]) => radiusUnder(outside, diameter / 2, shaping, tiling.xyz)));
}

/** Largest r with r + (half diameter) * factor(r n) <= outside for all node directions n: factor(r n) = middle + slope r n. */
function radiusUnder(outside: number, half: number, shaping: Shaping, directions: Float64Array): number {
  const middle = gradientFactor(shaping, outside, [0, 0, 0]);
  let least = outside - half * middle;
  if (!shaping.gradient) return least;
  for (let v = 0; v < directions.length; v += 3) {
    const slope = gradientFactor(shaping, outside, directions.subarray(v, v + 3)) - middle;
    least = Math.min(least, (outside - half * middle) / (1 + half * slope));
  }
  return least;
}

/** A straight member between two nodes of the tiling's layers. */
interface Member {
  readonly from: number;
  readonly to: number;
  readonly diameter: number;
  readonly shaping: Shaping;
  readonly role: number;
}

function membersOf({ layers, links }: ParameterSet, { nodeCount, edges }: Tiling): Member[] {
  const members: Member[] = [];
  layers.forEach((layer, k) => {
    for (let e = 0; e < edges.length; e += 2) {
      members.push({
        from: k * nodeCount + edges[e],
        to: k * nodeCount + edges[e + 1],
        diameter: layer.strutDiameterMm,
        shaping: layer,
        role: k,
      });
    }
  });
  if (links.pattern === 'none') return members;
  for (let upper = 0; upper < (layers.length - 1) * nodeCount; upper++) {
    members.push({ from: upper, to: upper + nodeCount, diameter: links.strutDiameterMm!, shaping: links, role: layers.length });
  }
  return members;
}

/** Every member as one strut, or as two with a node at mid-span; the first struts of all members come first, in order. */
function addSpans(
  draft: GraphDraft,
  members: readonly Member[],
  outside: number,
): Pick<Lattice, 'spanDiameterMm' | 'spanCount' | 'spanOf'> {
  const spanDiameterMm = new Float64Array(members.length);
  const spanOf = members.map((_, k) => k);
  const second: (() => void)[] = [];
  members.forEach(({ from, to, diameter, shaping, role }, k) => {
    const [a, b] = [draft.place(from), draft.place(to)];
    const [atA, atB] = [a, b].map((place) => diameter * gradientFactor(shaping, outside, place));
    const middle = (shaping.taper ?? 1) * ((atA + atB) / 2);
    spanDiameterMm[k] = Math.max(atA, atB, middle);
    if ((shaping.taper ?? 1) === 1) {
      draft.addStrut(from, to, atA, atB, role);
      return;
    }
    const node = draft.addNode((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2);
    draft.addStrut(from, node, atA, middle, role);
    second.push(() => {
      draft.addStrut(node, to, middle, atB, role);
      spanOf.push(k);
    });
  });
  for (const add of second) add();
  return { spanDiameterMm, spanCount: members.length, spanOf };
}

/** Both diagonals of the quadrilateral under every strut of every layer but the innermost, as four struts to the node where they cross. */
function addBraces(draft: GraphDraft, { carrier, layers, links }: ParameterSet, { nodeCount, edges }: Tiling): void {
  const outside = carrier.outsideDiameterMm / 2;
  const diameterAt = (place: ArrayLike<number>) => links.strutDiameterMm! * gradientFactor(links, outside, place);
  for (let k = 0; k + 1 < layers.length; k++) {
    for (let e = 0; e < edges.length; e += 2) {
      const corners = [k, k + 1].flatMap((layer) => [layer * nodeCount + edges[e], layer * nodeCount + edges[e + 1]]);
      const [outerA, outerB, innerA, innerB] = corners.map((node) => draft.place(node));
      // An isosceles trapezium: its diagonals cut each other in the ratio of its parallel sides.
      const [wide, narrow] = [distance(outerA, outerB), distance(innerA, innerB)];
      const share = wide / (wide + narrow);
      const middle = [0, 1, 2].map((i) => outerA[i] + share * (innerB[i] - outerA[i]));
      const crossing = draft.addNode(middle[0], middle[1], middle[2]);
      for (const corner of corners)
        draft.addStrut(corner, crossing, diameterAt(draft.place(corner)), diameterAt(middle), layers.length + 1);
    }
  }
}

const distance = (a: readonly number[], b: readonly number[]): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
