import { nodeRadii, type StrutGraph } from '../lattice/index.ts';
import { deviates } from '../probability/index.ts';
import { biasAt, type Variation } from './variation.ts';

/** One part as it may come out of the printer. */
export interface PrintedPart {
  readonly index: number;
  /** Change of every strut's radius before scaling, mm, and of every node sphere's that follows. */
  readonly strutGrowthMm: Float64Array;
  readonly nodeGrowthMm: Float64Array;
  readonly scale: number;
  /** Of z beside x and y, on top of the scale. */
  readonly upScale: number;
  readonly densityFactor: number;
  readonly modulusFactor: number;
  /** On the modulus of struts along the build axis and in the layer, about what the material says. */
  readonly directionFactors: { readonly upright: number; readonly inLayer: number };
}

/** A strut never loses more than this share of its radius: far beyond what `refuseVariation` lets happen, but normal tails have no end. */
const MOST_LOST = 0.9;

/** Draws parts of a design: part k of a seed is the same whatever else is drawn. */
export function makePrinter(graph: StrutGraph, variation: Variation, seed: number): (index: number) => PrintedPart {
  const { strutCount, ends, diameters } = graph;
  const { middles, biases, radius } = strutPlaces(graph, variation.biasByAngle);
  return (index) => {
    const source = deviates(seed, index);
    const part = variation.partScatterMm * source.normal();
    const drift = (variation.driftMm * source.normal()) / (2 * radius);
    const [x, y, z] = source.direction();
    const scale = 1 + (variation.scalePct / 100) * source.normal();
    const upScale = 1 + (variation.upScalePct / 100) * source.normal();
    const densityFactor = 1 + (variation.densityPct / 100) * source.normal();
    const modulusFactor = Math.exp((variation.modulusPct / 100) * source.normal());
    const lean = Math.exp(((variation.directionPct / 100) * source.normal()) / 2);
    const strutGrowthMm = new Float64Array(strutCount);
    for (let s = 0; s < strutCount; s++) {
      const along = x * middles[3 * s] + y * middles[3 * s + 1] + z * middles[3 * s + 2];
      const change = biases[s] + part + drift * along + variation.diameterScatterMm * source.normal();
      const thinner = Math.min(diameters[2 * s], diameters[2 * s + 1]);
      strutGrowthMm[s] = Math.max(change, -MOST_LOST * thinner) / 2;
    }
    // Below any growth: a node without struts keeps it, and has no surface to multiply.
    const nodeGrowthMm = new Float64Array(graph.nodeCount).fill(-graph.nodeRadius.reduce((most, r) => Math.max(most, r), 0));
    for (let end = 0; end < ends.length; end++) {
      const grown = diameters[end] / 2 + strutGrowthMm[end >> 1] - graph.nodeRadius[ends[end]];
      if (grown > nodeGrowthMm[ends[end]]) nodeGrowthMm[ends[end]] = grown;
    }
    return {
      index,
      strutGrowthMm,
      nodeGrowthMm,
      scale,
      upScale,
      densityFactor,
      modulusFactor,
      directionFactors: { upright: lean, inLayer: 1 / lean },
    };
  };
}

/** The lattice of a printed part, its struts round however it is stretched: what a bounce takes. */
export function printedGraph(
  graph: StrutGraph,
  { scale, upScale, strutGrowthMm }: Pick<PrintedPart, 'scale' | 'upScale' | 'strutGrowthMm'>,
): StrutGraph {
  const diameters = graph.diameters.map((d, end) => scale * (d + 2 * strutGrowthMm[end >> 1]));
  return {
    ...graph,
    xyz: graph.xyz.map((x, k) => scale * (k % 3 === 2 ? upScale : 1) * x),
    diameters,
    nodeRadius: nodeRadii(graph.nodeCount, graph.ends, diameters),
  };
}

function strutPlaces({ strutCount, xyz, ends }: StrutGraph, rows: Variation['biasByAngle']) {
  const middles = new Float64Array(3 * strutCount);
  const biases = new Float64Array(strutCount);
  for (let s = 0; s < strutCount; s++) {
    const [a, b] = [3 * ends[2 * s], 3 * ends[2 * s + 1]];
    const d = [0, 1, 2].map((k) => xyz[b + k] - xyz[a + k]);
    for (let k = 0; k < 3; k++) middles[3 * s + k] = (xyz[a + k] + xyz[b + k]) / 2;
    biases[s] = biasAt(rows, (Math.atan2(Math.hypot(d[0], d[1]), Math.abs(d[2])) * 180) / Math.PI);
  }
  let square = 0;
  for (let v = 0; v < xyz.length; v += 3) square = Math.max(square, xyz[v] ** 2 + xyz[v + 1] ** 2 + xyz[v + 2] ** 2);
  return { middles, biases, radius: Math.sqrt(square) };
}
