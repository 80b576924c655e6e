import type { StrutGraph } from './graph.ts';

/** Grows a graph node by node and strut by strut. */
export interface GraphDraft {
  addNode(x: number, y: number, z: number): number;
  /** Adds a strut and returns its index. */
  addStrut(from: number, to: number, diameterFrom: number, diameterTo: number, role: number): number;
  place(node: number): [number, number, number];
  finish(roleNames: readonly string[]): StrutGraph;
}

export function draftGraph(): GraphDraft {
  const xyz: number[] = [];
  const ends: number[] = [];
  const diameters: number[] = [];
  const roles: number[] = [];
  return {
    addNode: (x, y, z) => (xyz.push(x, y, z) - 3) / 3,
    addStrut: (from, to, diameterFrom, diameterTo, role) => {
      ends.push(from, to);
      diameters.push(diameterFrom, diameterTo);
      return roles.push(role) - 1;
    },
    place: (node) => [xyz[3 * node], xyz[3 * node + 1], xyz[3 * node + 2]],
    finish: (roleNames) => {
      const [nodeCount, strutCount] = [xyz.length / 3, roles.length];
      const flat = { xyz: Float64Array.from(xyz), ends: Int32Array.from(ends), diameters: Float64Array.from(diameters) };
      return {
        nodeCount,
        strutCount,
        ...flat,
        roles: Int32Array.from(roles),
        roleNames,
        nodeRadius: nodeRadii(nodeCount, flat.ends, flat.diameters),
      };
    },
  };
}

/** Half the largest diameter that ends at each node. */
export function nodeRadii(nodeCount: number, ends: Int32Array, diameters: Float64Array): Float64Array {
  const radius = new Float64Array(nodeCount);
  for (let k = 0; k < ends.length; k++) radius[ends[k]] = Math.max(radius[ends[k]], diameters[k] / 2);
  return radius;
}
