/** Sections of the solid at planes in rising order. */
export type Cut = (planes: Float64Array) => Sections;
export interface Sections {
  readonly area: Float64Array;
  readonly contour: Float64Array;
}

export interface Stack {
  readonly bottom: number;
  readonly layerMm: number;
  readonly count: number;
}

/** The 3-point Gauss-Legendre rule on [0, 1]: a square root at an end is integrated to 0.4 %. */
const PLACES = [(1 - Math.sqrt(0.6)) / 2, 0.5, (1 + Math.sqrt(0.6)) / 2];
const WEIGHTS = [5 / 18, 8 / 18, 5 / 18];
/** A layer is looked into when it is bent by more than this share of the mean section of all layers, and then met this near. */
const BENT = 5e-4;
const NEAR = 3e-4;
const MOST_STEPS = 24;
/**
 * Level struts' heights per layer beyond which layers are cut at their middles: a search in nearly every layer of a fine lattice takes ten times as long.
 * Layers then add up to the volume within 2e-4 (GP(10,0) divided by its mirror plane), mostly 5e-5.
 */
const MOST_HEIGHTS = 0.06;

interface Sample {
  readonly z: number;
  readonly area: number;
  readonly contour: number;
}
interface Node {
  readonly z: number;
  readonly weight: number;
}
interface Searched {
  readonly layer: number;
  readonly mean: number;
  low: Sample;
  high: Sample;
  at: Sample;
}

/**
 * One section for each layer: at its middle; or, where the area bends so sharply that this is not the layer's mean (by the second difference of
 * neighbours, or because the layer holds one of the `heights` at which level struts begin and end), at a plane whose section has the mean area.
 * There is one, as sections change without jumps; the mean is integrated piece by piece between the heights, the plane found by false position.
 */
export function meanSections(stack: Stack, heights: readonly number[], cut: Cut): Sections & { planes: Float64Array } {
  const { bottom, layerMm, count } = stack;
  const planes = Float64Array.from({ length: count }, (_, k) => bottom + (k + 0.5) * layerMm);
  const { area, contour } = cut(planes);
  const usual = area.reduce((sum, each) => sum + each, 0) / count;
  const rules = heights.length > MOST_HEIGHTS * count ? [] : rulesOf(stack, heights, (layer) => Math.abs(bend(area, layer)) > BENT * usual);
  const found = samplesAt(
    rules.flatMap(({ nodes }) => nodes.map(({ z }) => z)),
    cut,
  );
  const searched = rules.map(({ layer, nodes }) => searchOf(layer, nodes, found.splice(0, nodes.length), planes[layer]));
  const isFar = ({ at, mean }: Searched) => Math.abs(at.area - mean) > NEAR * usual;
  for (let step = 0; step < MOST_STEPS; step++) {
    // With its mirror image, so that the planes stay even about the middle.
    const far = searched.filter((each, k) => isFar(each) || isFar(searched[searched.length - 1 - k]));
    if (far.length === 0) break;
    const tried = samplesAt(far.map(between), cut);
    far.forEach((each, k) => narrow(each, tried[k]));
  }
  for (const { layer, at } of searched) [planes[layer], area[layer], contour[layer]] = [at.z, at.area, at.contour];
  return { planes, area, contour };
}

/** Mean of the layer less its middle, to the second order. */
const bend = (area: Float64Array, layer: number): number => ((area[layer - 1] ?? 0) - 2 * area[layer] + (area[layer + 1] ?? 0)) / 24;

function samplesAt(z: readonly number[], cut: Cut): Sample[] {
  if (z.length === 0) return [];
  const { area, contour } = cut(Float64Array.from(z));
  return z.map((each, k) => ({ z: each, area: area[k], contour: contour[k] }));
}

/** Planes and weights of the layers that are looked into; those of the upper half mirror the lower, so that planes lie even. */
function rulesOf(
  { bottom, layerMm, count }: Stack,
  heights: readonly number[],
  isBent: (layer: number) => boolean,
): { layer: number; nodes: Node[] }[] {
  const middle = bottom + (count * layerMm) / 2;
  const cuts = new Map<number, number[]>();
  for (let layer = 0; layer < count / 2; layer++) if (isBent(layer) || isBent(count - 1 - layer)) cuts.set(layer, []);
  for (const z of heights.flatMap((each) => [each, 2 * middle - each])) {
    const layer = Math.floor((z - bottom) / layerMm);
    if (layer >= 0 && layer < count / 2) cuts.set(layer, [...(cuts.get(layer) ?? []), z]);
  }
  const below = [...cuts]
    .sort(([a], [b]) => a - b)
    .map(([layer, inside]) => {
      const bounds = [bottom + layer * layerMm, ...inside.sort((a, b) => a - b), bottom + (layer + 1) * layerMm];
      return { layer, nodes: nodesBetween(bounds) };
    });
  const above = below.map(({ layer, nodes }) => ({
    layer: count - 1 - layer,
    nodes: nodes.map(({ z, weight }) => ({ z: 2 * middle - z, weight })).reverse(),
  }));
  return [...below, ...above.reverse()];
}

/** Pieces thinner than this share of the layer hold nothing. */
const THINNEST = 1e-4;

function nodesBetween(bounds: readonly number[]): Node[] {
  const whole = bounds[bounds.length - 1] - bounds[0];
  return bounds.slice(1).flatMap((to, k) => {
    const part = to - bounds[k];
    if (part < THINNEST * whole) return [];
    return PLACES.map((place, p) => ({ z: bounds[k] + place * part, weight: (WEIGHTS[p] * part) / whole }));
  });
}

/** The two neighbouring samples nearest the layer's middle that have its mean between them. */
function searchOf(layer: number, nodes: readonly Node[], samples: readonly Sample[], middle: number): Searched {
  const mean = samples.reduce((sum, { area }, k) => sum + nodes[k].weight * area, 0) / nodes.reduce((sum, { weight }) => sum + weight, 0);
  const away = (k: number) => Math.abs((samples[k].z + samples[k + 1].z) / 2 - middle);
  let best = -1;
  for (let k = 0; k + 1 < samples.length; k++) {
    const holds = Math.min(samples[k].area, samples[k + 1].area) <= mean && Math.max(samples[k].area, samples[k + 1].area) >= mean;
    if (holds && (best < 0 || away(k) < away(best))) best = k;
  }
  // All alike but for rounding: any of them will do.
  const [low, high] = best < 0 ? [samples[1], samples[1]] : [samples[best], samples[best + 1]];
  return { layer, mean, low, high, at: Math.abs(low.area - mean) < Math.abs(high.area - mean) ? low : high };
}

/** Where a straight line between the two samples has the mean; halfway where that is next to one of them. */
function between({ low, high, mean }: Searched): number {
  const share = (mean - low.area) / (high.area - low.area);
  return low.z + (high.z - low.z) * (share > 0.02 && share < 0.98 ? share : 0.5);
}

function narrow(each: Searched, tried: Sample): void {
  if (Math.abs(tried.area - each.mean) < Math.abs(each.at.area - each.mean)) each.at = tried;
  if ((tried.area - each.mean) * (each.low.area - each.mean) > 0) each.low = tried;
  else each.high = tried;
}
