import type { Tiling } from '../tiling/index.ts';
import type { GraphSymmetry, Lattice, StrutGraph } from './graph.ts';
import type { ParameterSet } from './parameter-set.ts';
import { checkParameters, type Refusal } from './refusal.ts';

/**
 * Puts layers of struts on a tiling and links them: node v of layer k lies along the tiling's node v at radius R0 - depth(k), where R0 = outside
 * radius less the radius of layer 0's largest node sphere. Every edge of the tiling is a strut in every layer; `posts` joins node v of layer k
 * to node v of layer k + 1. Returns a refusal, naming the parameter, where the closed-form limits are not met.
 */
export function buildLattice(set: ParameterSet, tiling: Tiling): Lattice | Refusal {
  const refusal = checkParameters(set, tiling.T);
  if (refusal) return refusal;
  const linkDiameter = set.links.pattern === 'posts' ? set.links.strutDiameterMm! : 0;
  const outer = set.carrier.outsideDiameterMm / 2 - Math.max(set.layers[0].strutDiameterMm, linkDiameter) / 2;
  const nodeRadiusMm = set.layers.map((layer) => outer - layer.depthMm);
  const diameters = set.layers.map((layer) => layer.strutDiameterMm);
  const linked = linkDiameter > 0;
  return {
    graph: makeGraph(tiling, nodeRadiusMm, diameters, linkDiameter),
    symmetry: makeSymmetry(tiling, set.layers.length, linked),
    layerCount: set.layers.length,
    nodeRadiusMm,
    nodesPerLayer: tiling.nodeCount,
    strutsPerLayer: tiling.edgeCount,
    linked,
    cellCount: tiling.cellCount,
    cellPtr: tiling.cellPtr,
    cellNodes: tiling.cellNodes,
    cellStruts: tiling.cellEdges,
  };
}

function makeGraph(tiling: Tiling, radii: readonly number[], layerDiameters: readonly number[], linkDiameter: number): StrutGraph {
  const { nodeCount: n, edgeCount: e } = tiling;
  const layers = radii.length;
  const strutCount = layers * e + (linkDiameter > 0 ? (layers - 1) * n : 0);
  const xyz = new Float64Array(3 * n * layers);
  const ends = new Int32Array(2 * strutCount);
  const diameters = new Float64Array(2 * strutCount);
  const roles = new Int32Array(strutCount);
  for (let k = 0; k < layers; k++) {
    for (let i = 0; i < 3 * n; i++) xyz[3 * n * k + i] = radii[k] * tiling.xyz[i];
    for (let i = 0; i < 2 * e; i++) ends[2 * e * k + i] = n * k + tiling.edges[i];
    diameters.fill(layerDiameters[k], 2 * e * k, 2 * e * (k + 1));
    roles.fill(k, e * k, e * (k + 1));
  }
  for (let s = layers * e; s < strutCount; s++) {
    const upper = s - layers * e;
    ends[2 * s] = upper;
    ends[2 * s + 1] = upper + n;
    diameters.fill(linkDiameter, 2 * s, 2 * s + 2);
    roles[s] = layers;
  }
  const roleNames = [...radii.map((_, k) => `layer-${k}`), ...(linkDiameter > 0 ? ['link'] : [])];
  return { nodeCount: n * layers, strutCount, xyz, ends, diameters, roles, roleNames, nodeRadius: nodeRadii(n * layers, ends, diameters) };
}

/** Half the largest diameter that ends at each node. */
export function nodeRadii(nodeCount: number, ends: Int32Array, diameters: Float64Array): Float64Array {
  const radius = new Float64Array(nodeCount);
  for (let k = 0; k < ends.length; k++) radius[ends[k]] = Math.max(radius[ends[k]], diameters[k] / 2);
  return radius;
}

/** The tiling's orbits, repeated layer by layer; a post's orbit is its outer node's. */
function makeSymmetry({ symmetry, nodeCount: n, edgeCount: e }: Tiling, layers: number, linked: boolean): GraphSymmetry {
  const nodeOrbit = Int32Array.from({ length: n * layers }, (_, v) => n * Math.floor(v / n) + symmetry.nodeOrbit[v % n]);
  const posts = linked ? n * (layers - 1) : 0;
  const strutOrbit = Int32Array.from({ length: e * layers + posts }, (_, s) =>
    s < e * layers ? e * Math.floor(s / e) + symmetry.edgeOrbit[s % e] : e * layers + nodeOrbit[s - e * layers],
  );
  return { rotations: symmetry.rotations, nodeOrbit, strutOrbit };
}
