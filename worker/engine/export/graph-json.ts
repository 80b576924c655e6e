import { nodeRadii, type StrutGraph } from '../lattice/index.ts';

/** The contract's graph.json: millimetres, struts as [node, node, diameter there, diameter there]; the last is left out on a cylinder. */
export interface GraphJson {
  unit: 'mm';
  nodes: [number, number, number][];
  struts: ([number, number, number] | [number, number, number, number])[];
  roles?: string[];
}

/** What is wrong with a graph.json: a pointer to the place, the value there and what is allowed. */
export interface GraphFault {
  pointer: string;
  value: unknown;
  detail: string;
}

const MOST_NODES = 1_000_000;
const MOST_STRUTS = 2_000_000;
/** Struts shorter than this share of their diameter have no direction worth the name. */
const SHORTEST = 1e-6;

export function graphJson({ nodeCount, strutCount, xyz, ends, diameters, roles, roleNames }: StrutGraph): GraphJson {
  return {
    unit: 'mm',
    nodes: Array.from({ length: nodeCount }, (_, v) => [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]]),
    struts: Array.from({ length: strutCount }, (_, s) => {
      const [i, j, a, b] = [ends[2 * s], ends[2 * s + 1], diameters[2 * s], diameters[2 * s + 1]];
      return a === b ? [i, j, a] : [i, j, a, b];
    }),
    roles: Array.from(roles, (role) => roleNames[role]),
  };
}

type Read = { readonly kind: 'graph'; readonly graph: StrutGraph } | { readonly kind: 'fault'; readonly fault: GraphFault };
const fault = (pointer: string, value: unknown, detail: string): Read => ({ kind: 'fault', fault: { pointer, value, detail } });
const isPlain = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null && !Array.isArray(value);

/** Reads a graph.json, checking every number; roles are optional. The first thing wrong is returned as a fault. */
export function readGraph(json: unknown): Read {
  if (!isPlain(json)) return fault('', json, 'is not an object; allowed: { "unit": "mm", "nodes": [], "struts": [] }');
  const { unit, nodes, struts, roles } = json;
  if (unit !== 'mm') return fault('/unit', unit, 'allowed: "mm"');
  if (!Array.isArray(nodes) || nodes.length < 2 || nodes.length > MOST_NODES)
    return fault('/nodes', lengthOf(nodes), `allowed: a list of 2 to ${MOST_NODES} nodes`);
  if (!Array.isArray(struts) || struts.length < 1 || struts.length > MOST_STRUTS)
    return fault('/struts', lengthOf(struts), `allowed: a list of 1 to ${MOST_STRUTS} struts`);
  const xyz = new Float64Array(3 * nodes.length);
  for (const [v, node] of nodes.entries()) {
    if (!isNumbers(node, 3, 3)) return fault(`/nodes/${v}`, node, 'allowed: three finite numbers, mm');
    xyz.set(node, 3 * v);
  }
  const ends = new Int32Array(2 * struts.length);
  const diameters = new Float64Array(2 * struts.length);
  for (const [s, strut] of struts.entries()) {
    const wrong = strutFault(strut, xyz);
    if (wrong) return fault(`/struts/${s}`, strut, wrong);
    const [i, j, a, b = a] = strut as number[];
    ends.set([i, j], 2 * s);
    diameters.set([a, b], 2 * s);
  }
  const named = readRoles(roles, struts.length);
  if ('fault' in named) return { kind: 'fault', fault: named.fault };
  const nodeRadius = nodeRadii(nodes.length, ends, diameters);
  const loose = nodeRadius.indexOf(0);
  if (loose >= 0) return fault(`/nodes/${loose}`, nodes[loose], 'belongs to no strut; allowed: nodes that at least one strut ends at');
  return { kind: 'graph', graph: { nodeCount: nodes.length, strutCount: struts.length, xyz, ends, diameters, nodeRadius, ...named } };
}

const lengthOf = (value: unknown): unknown => (Array.isArray(value) ? `a list of ${value.length}` : value);
const isNumbers = (value: unknown, least: number, most: number): value is number[] =>
  Array.isArray(value) && value.length >= least && value.length <= most && value.every((x) => typeof x === 'number' && Number.isFinite(x));

function strutFault(strut: unknown, xyz: Float64Array): string | null {
  if (!isNumbers(strut, 3, 4)) return 'allowed: [node, node, diameter] or [node, node, diameter, diameter]';
  const [i, j, a, b = a] = strut;
  const nodes = xyz.length / 3;
  if (![i, j].every((node) => Number.isInteger(node) && node >= 0 && node < nodes))
    return `allowed: two whole node numbers from 0 to ${nodes - 1}`;
  if (!(a > 0 && b > 0)) return 'allowed: diameters greater than 0, mm';
  const length = Math.hypot(...[0, 1, 2].map((k) => xyz[3 * i + k] - xyz[3 * j + k]));
  return length > SHORTEST * Math.max(a, b) ? null : `is ${length} mm long; allowed: two nodes at different places`;
}

function readRoles(roles: unknown, struts: number): { roles: Int32Array; roleNames: string[] } | { fault: GraphFault } {
  if (roles === undefined) return { roles: new Int32Array(struts), roleNames: ['strut'] };
  if (!Array.isArray(roles) || roles.length !== struts || !roles.every((role) => typeof role === 'string')) {
    return { fault: { pointer: '/roles', value: lengthOf(roles), detail: `allowed: a list of ${struts} names, one per strut` } };
  }
  const roleNames = [...new Set(roles as string[])];
  const index = new Map(roleNames.map((name, k) => [name, k]));
  return { roles: Int32Array.from(roles as string[], (role) => index.get(role)!), roleNames };
}
