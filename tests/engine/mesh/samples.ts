import type { GraphSymmetry, StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { latticeOf } from '../lattice/samples.ts';
import { random } from '../solid/samples.ts';

export interface MeshSample {
  readonly name: string;
  readonly graph: StrutGraph;
  readonly symmetry: GraphSymmetry | null;
}

const layer = (depthMm: number, strutDiameterMm: number) => ({ depthMm, strutDiameterMm });
const gradient = { axis: 'z', fromFactor: 0.7, toFactor: 1.3 } as const;

/** Every node moved by up to 0.7 mm each way and every strut a cone of its own: nothing is like anything else. */
function disturbed(graph: StrutGraph): StrutGraph {
  const next = random(20_270_131);
  const diameters = graph.diameters.map((d) => d * (0.8 + 0.4 * next()));
  const nodeRadius = new Float64Array(graph.nodeCount);
  graph.ends.forEach((node, end) => {
    nodeRadius[node] = Math.max(nodeRadius[node], diameters[end] / 2);
  });
  return { ...graph, xyz: graph.xyz.map((x) => x + 1.4 * next() - 0.7), diameters, nodeRadius };
}

/** A straight row of struts, a corner, a free end and a lone strut of one graph. */
const bare: StrutGraph = {
  nodeCount: 6,
  strutCount: 4,
  xyz: Float64Array.from([0, 0, 0, 20, 0, 0, 40, 0, 0, 40, 20, 5, 0, 30, 0, 0, 60, 0]),
  ends: Int32Array.from([0, 1, 2, 1, 2, 3, 4, 5]),
  diameters: Float64Array.from([4, 4, 4, 4, 5, 4, 3, 6]),
  roles: new Int32Array(4),
  roleNames: ['strut'],
  nodeRadius: Float64Array.from([2, 2, 2.5, 2, 1.5, 3]),
};

/** Ten lattices of every kind that the schema knows. */
export const MESH_SAMPLES: readonly MeshSample[] = [
  { name: 'bare struts: straight on, a corner, free ends, apart', graph: bare, symmetry: null },
  { name: 'GP(1,0), one layer', ...latticeOf({ m: 1, n: 0, outsideDiameterMm: 120, layers: [layer(0, 5)] }) },
  { name: 'GP(2,1), class III, one layer', ...latticeOf({ m: 2, n: 1, outsideDiameterMm: 120, layers: [layer(0, 4)] }) },
  {
    name: 'GP(2,0), two layers of one thickness, posts',
    ...latticeOf({ m: 2, n: 0, outsideDiameterMm: 140, layers: [layer(0, 4), layer(14, 4)], posts: 4 }),
  },
  {
    name: 'GP(1,1) tapered layers and posts',
    ...latticeOf({
      m: 1,
      n: 1,
      outsideDiameterMm: 120,
      layers: [
        { ...layer(0, 5), taper: 0.7 },
        { ...layer(14, 4), taper: 1.3 },
      ],
      links: { pattern: 'posts', strutDiameterMm: 5, taper: 0.6 },
    }),
  },
  {
    name: 'GP(2,0) graded along z and x',
    ...latticeOf({
      m: 2,
      n: 0,
      outsideDiameterMm: 150,
      layers: [{ ...layer(0, 4), gradient }, layer(13, 3.5)],
      links: { pattern: 'posts', strutDiameterMm: 3.5, gradient: { ...gradient, axis: 'x' } },
    }),
  },
  {
    name: 'GP(1,0) braced',
    ...latticeOf({
      m: 1,
      n: 0,
      outsideDiameterMm: 120,
      layers: [layer(0, 4), layer(14, 3)],
      links: { pattern: 'braced', strutDiameterMm: 2.5 },
    }),
  },
  {
    name: 'GP(1,0), four layers of different struts',
    ...latticeOf({ m: 1, n: 0, outsideDiameterMm: 120, layers: [layer(0, 4), layer(8, 3), layer(16, 5), layer(24, 3)], posts: 4 }),
  },
  {
    name: 'GP(2,0), thick crowded joints',
    ...latticeOf({ m: 2, n: 0, outsideDiameterMm: 120, layers: [layer(0, 8), layer(12, 7)], posts: 8 }),
  },
  {
    name: 'GP(1,0), posts 9 mm long and 8 mm thick: the joints of their ends meet',
    ...latticeOf({ m: 1, n: 0, outsideDiameterMm: 120, layers: [layer(0, 8), layer(9, 7)], posts: 8 }),
  },
];

/** Those that take seconds each. */
export const SLOW_MESH_SAMPLES: readonly MeshSample[] = [
  {
    name: 'GP(2,2), thinner posts, equal edges',
    ...latticeOf({ m: 2, n: 2, outsideDiameterMm: 162.3, layers: [layer(0, 4.2), layer(14, 3.6)], posts: 3.6, relaxation: 'equal-edges' }),
  },
  {
    name: 'GP(2,0) braced, graded, tapered braces',
    ...latticeOf({
      m: 2,
      n: 0,
      outsideDiameterMm: 162,
      layers: [{ ...layer(0, 4), gradient }, layer(16, 3)],
      links: { pattern: 'braced', strutDiameterMm: 2, taper: 0.8 },
    }),
  },
  {
    name: 'GP(1,1) disturbed: no symmetry, cones of all kinds',
    graph: disturbed(latticeOf({ m: 1, n: 1, outsideDiameterMm: 100, layers: [layer(0, 5), layer(13, 4)], posts: 4 }).graph),
    symmetry: null,
  },
];
