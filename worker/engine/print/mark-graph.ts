import { nodeRadii, type StrutGraph } from '../lattice/index.ts';
import type { VersionMark } from './mark-types.ts';
import { moved, strutAxis } from './strut-axis.ts';

/**
 * The graph with the mark on it: the marked strut is split where pins stand, each pin is a strut from there to a free end. Indices of the
 * graph's nodes and struts stay valid: the marked strut becomes its own first piece; the other pieces (of its role), then the pins (role
 * `mark`) follow all struts, and new nodes follow all nodes. Diameters at the splits are those of the strut there.
 */
export function withMark(graph: StrutGraph, mark: Pick<VersionMark, 'strut' | 'pins' | 'pinDiameterMm'>): StrutGraph {
  const xyz = [...graph.xyz];
  const ends = [...graph.ends];
  const diameters = [...graph.diameters];
  const roles = [...graph.roles];
  const addNode = (point: readonly number[]) => xyz.push(...point) / 3 - 1;
  const addStrut = (from: number, to: number, role: number, [a, b]: readonly [number, number]) => {
    ends.push(from, to);
    diameters.push(a, b);
    roles.push(role);
  };

  const axis = strutAxis(graph, mark.strut);
  const last = ends[2 * mark.strut + 1];
  const feet = [...new Set(mark.pins.map(({ atMm }) => atMm))].sort((a, b) => a - b);
  const nodes = feet.map((at) => addNode(axis.pointAt(at)));
  ends[2 * mark.strut + 1] = nodes[0];
  diameters[2 * mark.strut + 1] = axis.diameterAt(feet[0]);
  feet.forEach((at, i) => {
    const next = feet[i + 1] ?? axis.length;
    addStrut(nodes[i], nodes[i + 1] ?? last, roles[mark.strut], [axis.diameterAt(at), axis.diameterAt(next)]);
  });
  for (const { atMm, direction, reachMm } of mark.pins) {
    const tip = addNode(moved(axis.pointAt(atMm), direction, reachMm));
    addStrut(nodes[feet.indexOf(atMm)], tip, graph.roleNames.length, [mark.pinDiameterMm, mark.pinDiameterMm]);
  }
  const [nodeCount, flatEnds, flatDiameters] = [xyz.length / 3, Int32Array.from(ends), Float64Array.from(diameters)];
  return {
    nodeCount,
    strutCount: roles.length,
    xyz: Float64Array.from(xyz),
    ends: flatEnds,
    diameters: flatDiameters,
    roles: Int32Array.from(roles),
    roleNames: [...graph.roleNames, 'mark'],
    nodeRadius: nodeRadii(nodeCount, flatEnds, flatDiameters),
  };
}
