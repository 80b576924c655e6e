import type { GraphSymmetry, StrutGraph } from '../../worker/engine/lattice/index.ts';
import { latticeOf } from '../engine/lattice/samples.ts';
import { random } from '../engine/solid/samples.ts';

/** Solids that a mesh Boolean is asked about, with few struts so that it may use many facets. */
export interface MeshSolid {
  readonly name: string;
  readonly graph: StrutGraph;
  readonly symmetry: GraphSymmetry | null;
  /** Facets round the coarsest of three meshes. */
  readonly segments: number;
}

const layer = (depthMm: number, strutDiameterMm: number) => ({ depthMm, strutDiameterMm });

/** Every node moved by up to a millimetre each way and every strut a cone of its own: nothing is like anything else. */
function disturbed(graph: StrutGraph): StrutGraph {
  const next = random(20_270_131);
  const diameters = graph.diameters.map((d) => d * (0.8 + 0.4 * next()));
  const nodeRadius = new Float64Array(graph.nodeCount);
  graph.ends.forEach((node, end) => {
    nodeRadius[node] = Math.max(nodeRadius[node], diameters[end] / 2);
  });
  return { ...graph, xyz: graph.xyz.map((x) => x + 2 * next() - 1), diameters, nodeRadius };
}

/** Those that a mesh Boolean is done with in seconds. */
export const QUICK_SOLIDS: readonly MeshSolid[] = [
  {
    name: 'GP(1,0), two layers, posts 9 mm long and 8 mm thick: the joints of their ends meet',
    ...latticeOf({ m: 1, n: 0, outsideDiameterMm: 120, layers: [layer(0, 8), layer(9, 7)], posts: 8 }),
    segments: 8,
  },
  {
    name: 'GP(2,1), class III, one layer',
    ...latticeOf({ m: 2, n: 1, outsideDiameterMm: 120, layers: [layer(0, 4)] }),
    segments: 8,
  },
  {
    name: 'GP(1,1) disturbed, no symmetry, cones',
    graph: disturbed(latticeOf({ m: 1, n: 1, outsideDiameterMm: 80, layers: [layer(0, 5)] }).graph),
    symmetry: null,
    segments: 8,
  },
];

export const SLOW_SOLIDS: readonly MeshSolid[] = [
  {
    name: 'GP(1,0), two layers, posts 2.3 mm long and 29 mm thick: their far spheres cover neighbours',
    ...latticeOf({ m: 1, n: 0, outsideDiameterMm: 130, layers: [layer(0, 2), layer(2.3, 2)], posts: 29 }),
    segments: 12,
  },
  {
    name: 'GP(1,0), four layers of different struts',
    ...latticeOf({ m: 1, n: 0, outsideDiameterMm: 120, layers: [layer(0, 4), layer(8, 3), layer(16, 5), layer(24, 3)], posts: 4 }),
    segments: 8,
  },
  {
    name: 'GP(1,0) braced, with a taper and a gradient',
    ...latticeOf({
      m: 1,
      n: 0,
      outsideDiameterMm: 120,
      layers: [{ ...layer(0, 4), gradient: { axis: 'z', fromFactor: 0.7, toFactor: 1.3 } }, layer(14, 3)],
      links: { pattern: 'braced', strutDiameterMm: 3, taper: 0.7 },
    }),
    segments: 8,
  },
];
