import type { ParameterSet } from './parameter-set.ts';
import { idealEdge, layerWidth, linkWidth, MAX_T, outerNodeRadiusMm, tilingOf, triangulationNumber } from './parameter-sizes.ts';

/** A parameter that no lattice can be built with, in closed form: where it stands, and what is allowed instead. */
export interface Refusal {
  path: (string | number)[];
  message: string;
}

/** Thinnest and thickest strut: far below what any powder resolves, far above what rounding could hide. */
export const LEAST_STRUT_MM = 0.05;
export const MOST_STRUT_MM = 100;

const DIGITS = 6;
/** One unit of the last of six digits. */
const unit = (limit: number) => 10 ** (Math.floor(Math.log10(limit)) + 1 - DIGITS);
const rounded = (value: number) => Number(value.toPrecision(DIGITS));
/** A limit as it is told: rounded to the side on which the told value keeps to the limit. */
const atLeast = (limit: number) => `at least ${rounded(limit) >= limit ? rounded(limit) : rounded(rounded(limit) + unit(limit))} mm`;
const lessThan = (limit: number) => `less than ${rounded(limit) <= limit ? rounded(limit) : rounded(rounded(limit) - unit(limit))} mm`;

/** Every closed-form refusal of a parameter set whose fields are each in range; empty when there is none. */
export function refusalsOf(set: ParameterSet): Refusal[] {
  const unclear = tilingRefusal(set);
  if (unclear) return [unclear];
  const { m, n } = tilingOf(set);
  const T = triangulationNumber(m, n);
  if (T < 1 || T > MAX_T) return [{ path: ['tiling'], message: `T = m^2 + mn + n^2 is ${T}; allowed: 1 to ${MAX_T}` }];
  const outer = outerNodeRadiusMm(set);
  const general = [...linkRefusals(set), ...referenceDepthRefusals(set)];
  if (outer <= 0) {
    const message = `not larger than the thickest strut of layer 0; allowed: more than ${set.carrier.outsideDiameterMm - 2 * outer} mm`;
    return [...general, { path: ['carrier', 'outsideDiameterMm'], message }];
  }
  return [...general, ...depthRefusals(set, outer), ...thicknessRefusals(set, outer, T)];
}

/** A tiling is named by m and n, or by its cell size. */
function tilingRefusal({ tiling: { m, n, cellSizeMm } }: ParameterSet): Refusal | null {
  const named = m !== undefined || n !== undefined;
  if (cellSizeMm !== undefined)
    return named ? { path: ['tiling', 'cellSizeMm'], message: 'stands beside m or n; allowed: either m and n, or cellSizeMm' } : null;
  if (m !== undefined && n !== undefined) return null;
  const missing = m === undefined ? 'm' : 'n';
  return { path: ['tiling', missing], message: 'required: a whole number, at least 0, at most 20, unless cellSizeMm is given' };
}

function linkRefusals({ layers, links }: ParameterSet): Refusal[] {
  const told = `"${links.pattern}"`;
  const linked = links.pattern !== 'none';
  const path = ['links', 'pattern'];
  if (linked && layers.length < 2) return [{ path, message: `${told} needs at least two layers; allowed: "none" with one layer` }];
  if (!linked && layers.length > 1)
    return [{ path, message: `${told} leaves ${layers.length} layers unconnected; allowed: "posts" or "braced" with several layers` }];
  if (linked && links.strutDiameterMm === undefined)
    return [
      {
        path: ['links', 'strutDiameterMm'],
        message: `required: a number, at least ${LEAST_STRUT_MM}, at most ${MOST_STRUT_MM}, when links.pattern is ${told}`,
      },
    ];
  return [];
}

function referenceDepthRefusals({ layers }: ParameterSet): Refusal[] {
  return layers[0].depthMm === 0 ? [] : [{ path: ['layers', 0, 'depthMm'], message: 'the first layer is the reference; allowed: 0' }];
}

/** Layers lie above the centre, and neighbouring ones further apart than half the sum of their diameters. */
function depthRefusals({ layers }: ParameterSet, outer: number): Refusal[] {
  return layers.flatMap((layer, k): Refusal[] => {
    const { depthMm } = layer;
    const path = ['layers', k, 'depthMm'];
    if (outer - depthMm <= 0) return [{ path, message: `reaches the centre; allowed: ${lessThan(outer)}, the node radius of layer 0` }];
    if (k === 0) return [];
    const above = layers[k - 1];
    const least = above.depthMm + (layerWidth(above) + layerWidth(layer)) / 2;
    if (depthMm >= least) return [];
    return [{ path, message: `touches layer ${k - 1}, which lies ${above.depthMm} mm deep; allowed: ${atLeast(least)}` }];
  });
}

/** A strut is thinner, at its thickest, than the ideal cell edge at its node radius; a link, than the smallest of those. */
function thicknessRefusals(set: ParameterSet, outer: number, T: number): Refusal[] {
  const { layers, links } = set;
  const edges = layers.map(({ depthMm }) => idealEdge(T) * (outer - depthMm));
  // What is told is the diameter asked for: a taper or gradient makes it `width / diameter` times as thick somewhere.
  const at = (edge: number, width: number, diameter: number) =>
    `${lessThan((edge * diameter) / width)}, for the ideal cell edge is ${edge.toFixed(2)} mm at T = ${T} and a node radius of ${(edge / idealEdge(T)).toFixed(2)} mm`;
  const thick = layers.flatMap((layer, k): Refusal[] =>
    edges[k] <= 0 || layerWidth(layer) < edges[k]
      ? []
      : [
          {
            path: ['layers', k, 'strutDiameterMm'],
            message: `not thinner than a cell edge; allowed: ${at(edges[k], layerWidth(layer), layer.strutDiameterMm)}`,
          },
        ],
  );
  const smallest = Math.min(...edges.filter((edge) => edge > 0));
  if (links.pattern === 'none' || links.strutDiameterMm === undefined || linkWidth(set) < smallest) return thick;
  const message = `not thinner than the smallest cell edge; allowed: ${at(smallest, linkWidth(set), links.strutDiameterMm)}`;
  return [...thick, { path: ['links', 'strutDiameterMm'], message }];
}
