import { type ParameterSet, thickest } from './parameter-set.ts';

/** A parameter set that no lattice can be built from: which parameter, its value, and what is allowed. */
export interface Refusal {
  readonly refused: true;
  readonly path: readonly (string | number)[];
  readonly value: unknown;
  readonly message: string;
}

/** Edge of a regular hexagon of area 4 pi / (10T + 2) on the unit sphere. */
export const idealEdge = (T: number): number => Math.sqrt((8 * Math.PI) / (3 * Math.sqrt(3) * (10 * T + 2)));

/**
 * The closed-form limits: layers ordered inwards and above the centre, neighbouring layers further apart than the mean of their diameters,
 * diameters below the ideal cell edge at their node radius, links where and only where there are several layers. A tapered or graded diameter
 * counts with the largest it takes anywhere.
 */
export function checkParameters(set: ParameterSet, T: number): Refusal | null {
  const { layers, links } = set;
  if (layers.length < 1 || layers.length > 4) return refuse(['layers'], layers.length, 'allowed: 1 to 4 layers');
  if ((links.pattern === 'none') !== (layers.length === 1)) {
    return refuse(
      ['links', 'pattern'],
      links.pattern,
      `allowed with ${layers.length} layers: ${layers.length === 1 ? 'none' : 'posts or braced'}`,
    );
  }
  const linked = links.pattern !== 'none';
  if (linked && !((links.strutDiameterMm ?? 0) > 0))
    return refuse(['links', 'strutDiameterMm'], links.strutDiameterMm, 'allowed: greater than 0');
  if (layers[0].depthMm !== 0) return refuse(['layers', 0, 'depthMm'], layers[0].depthMm, 'allowed: 0');
  const link = linked ? thickest(links.strutDiameterMm!, links) : 0;
  const widths = layers.map((layer) => thickest(layer.strutDiameterMm, layer));
  const outer = set.carrier.outsideDiameterMm / 2 - Math.max(widths[0], link) / 2;
  if (!(outer > 0)) {
    const thickestMm = set.carrier.outsideDiameterMm - 2 * outer;
    return refuse(
      ['carrier', 'outsideDiameterMm'],
      set.carrier.outsideDiameterMm,
      `allowed: more than ${thickestMm}, the thickest strut of layer 0`,
    );
  }
  for (const [k, { depthMm, strutDiameterMm }] of layers.entries()) {
    if (!(depthMm < outer)) return refuse(['layers', k, 'depthMm'], depthMm, `allowed: less than ${outer}, the node radius of layer 0`);
    const edge = idealEdge(T) * (outer - depthMm);
    if (!(widths[k] > 0 && widths[k] < edge))
      return refuse(['layers', k, 'strutDiameterMm'], strutDiameterMm, tooThick(widths[k], strutDiameterMm, edge));
    if (link >= edge) return refuse(['links', 'strutDiameterMm'], links.strutDiameterMm, tooThick(link, links.strutDiameterMm!, edge));
    if (k === 0) continue;
    const least = layers[k - 1].depthMm + (widths[k - 1] + widths[k]) / 2;
    if (!(depthMm >= least))
      return refuse(['layers', k, 'depthMm'], depthMm, `allowed: at least ${least}, or layers ${k - 1} and ${k} touch`);
  }
  return null;
}

const refuse = (path: (string | number)[], value: unknown, message: string): Refusal => ({ refused: true, path, value, message });

/** What is allowed of a diameter whose shaping makes it `width` at its thickest. */
const tooThick = (width: number, diameter: number, edge: number): string =>
  `allowed: greater than 0, less than ${(edge * diameter) / width}`;
