import { parameterSet } from '../../openapi/index.ts';
import { buildLattice, type GraphSymmetry, type ParameterSet, type StrutGraph } from '../../worker/engine/lattice/index.ts';
import { smallestGap } from '../../worker/engine/print/index.ts';
import { tilingOf } from '../engine/lattice/samples.ts';
import { random } from '../engine/solid/samples.ts';

export interface RandomLattice {
  readonly name: string;
  readonly graph: StrutGraph;
  readonly symmetry: GraphSymmetry | null;
}

/**
 * Lattices drawn from a seed that the schema accepts and whose struts do not intersect: GP(1,0) or GP(1,1), one to four layers, every kind of links,
 * tapers and gradients. Few cells, so that a mesh Boolean of many facets ends.
 */
export function randomLattices(seed: number, count: number): RandomLattice[] {
  const next = random(seed);
  const found: RandomLattice[] = [];
  while (found.length < count) {
    const drawn = parameterSet.safeParse(draw(next));
    if (!drawn.success) continue;
    const set = drawn.data as ParameterSet;
    const lattice = buildLattice(set, tilingOf(set));
    if ('refused' in lattice || smallestGap(lattice.graph, lattice.symmetry, 0).kind === 'fault') continue;
    found.push({ name: `${found.length + 1}: ${nameOf(set)}`, graph: lattice.graph, symmetry: lattice.symmetry });
  }
  return found;
}

function draw(next: () => number): unknown {
  const between = (low: number, high: number) => low + (high - low) * next();
  const oneOf = <T>(...choices: T[]): T => choices[Math.floor(next() * choices.length)];
  const shaping = () => ({
    ...(next() < 0.3 && { taper: between(0.5, 1.3) }),
    ...(next() < 0.3 && { gradient: { axis: oneOf('x', 'y', 'z'), fromFactor: between(0.6, 1), toFactor: between(1, 1.5) } }),
  });
  const layerCount = oneOf(1, 2, 2, 3, 4);
  const layers = Array.from({ length: layerCount }, (_, k) => ({
    depthMm: k === 0 ? 0 : k * between(7, 11),
    strutDiameterMm: between(3, 7),
    ...shaping(),
  }));
  const pattern = layerCount === 1 ? 'none' : oneOf('posts', 'braced');
  return {
    carrier: { shape: 'sphere', outsideDiameterMm: between(90, 160) },
    tiling: {
      kind: 'goldberg',
      m: 1,
      n: layerCount === 1 ? oneOf(0, 1) : 0,
      relaxation: oneOf('none', 'equal-edges'),
      orientation: oneOf('split-plane', 'pentagon-up'),
    },
    layers,
    links:
      pattern === 'none'
        ? { pattern }
        : { pattern, strutDiameterMm: pattern === 'braced' ? between(1.5, 2.5) : between(2.5, 6), ...shaping() },
  };
}

const nameOf = ({ tiling: { m, n }, layers, links }: ParameterSet): string => {
  const shaped = [...layers, links].flatMap(({ taper, gradient }) => [taper && 'tapered', gradient && 'graded']).filter(Boolean);
  return [`GP(${m},${n}), ${layers.length} layers, links ${links.pattern}`, ...new Set(shaped)].join(', ');
};
