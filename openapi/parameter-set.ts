import { z } from 'zod';
import { positive } from './common.ts';

/** Largest triangulation number T = m^2 + mn + n^2 the service evaluates. */
export const MAX_T = 400;

export const carrier = z
  .strictObject({
    shape: z.literal('sphere'),
    outsideDiameterMm: z.number().min(5).max(1000).meta({ description: 'Diameter of the sphere that circumscribes the finished object' }),
  })
  .meta({ id: 'Carrier' });

export const tiling = z
  .strictObject({
    kind: z.literal('goldberg'),
    m: z.int().min(0).max(20),
    n: z.int().min(0).max(20).meta({ description: 'n > m is the mirror twin of m > n' }),
    relaxation: z.enum(['none', 'equal-edges']).default('none'),
    orientation: z.enum(['split-plane', 'pentagon-up', 'hexagon-up']).default('split-plane'),
  })
  .meta({ id: 'Tiling', description: 'Goldberg polyhedron GP(m,n): T = m^2 + mn + n^2 from 1 to 400, 20T nodes, 30T struts, 10T+2 cells' });

export const layer = z
  .strictObject({
    depthMm: z.number().min(0).max(500).meta({ description: "Centre-line depth below layer 0's centre line" }),
    strutDiameterMm: positive(100),
  })
  .meta({ id: 'Layer' });

export const links = z
  .strictObject({
    pattern: z.enum(['posts', 'none']).meta({ description: 'posts: radial, node to node; none: one layer only' }),
    strutDiameterMm: positive(100).optional(),
  })
  .meta({ id: 'Links' });

const shape = z.strictObject({
  carrier,
  tiling,
  layers: z.array(layer).min(1).max(4),
  links: links.default({ pattern: 'none' }),
});
type Shape = z.infer<typeof shape>;

/** T = m^2 + mn + n^2, the number of small triangles on one icosahedron face. */
export const triangulationNumber = (m: number, n: number): number => m * m + m * n + n * n;

/** Centre-line radius of layer 0 (mm): the outside radius less the radius of the largest node sphere of that layer. */
export function outerNodeRadiusMm(set: Pick<Shape, 'carrier' | 'layers' | 'links'>): number {
  const thickest = Math.max(set.layers[0].strutDiameterMm, set.links.pattern === 'none' ? 0 : (set.links.strutDiameterMm ?? 0));
  return set.carrier.outsideDiameterMm / 2 - thickest / 2;
}

/** Edge of a regular hexagon of area 4 pi / (10T + 2) on the unit sphere: sqrt(8 pi / (3 sqrt(3) (10T + 2))). */
export const idealEdge = (T: number): number => Math.sqrt((8 * Math.PI) / (3 * Math.sqrt(3) * (10 * T + 2)));

const mm = (value: number) => `${Number(value.toFixed(4))} mm`;

/** The refusals in closed form: each names the field, the value and what is allowed. */
function refuse(set: Shape, context: z.core.$RefinementCtx<Shape>): void {
  const issue = (path: (string | number)[], input: unknown, message: string) => context.addIssue({ code: 'custom', path, input, message });
  const T = triangulationNumber(set.tiling.m, set.tiling.n);
  if (T < 1 || T > MAX_T) {
    issue(['tiling'], { m: set.tiling.m, n: set.tiling.n }, `T = m^2 + mn + n^2 is ${T}; allowed: 1 to ${MAX_T}`);
    return;
  }
  const linked = set.links.pattern !== 'none';
  if (linked && set.layers.length < 2)
    issue(['links', 'pattern'], set.links.pattern, `"${set.links.pattern}" needs at least two layers; allowed with one layer: "none"`);
  if (!linked && set.layers.length > 1)
    issue(['links', 'pattern'], 'none', `"none" leaves ${set.layers.length} layers unconnected; allowed with several layers: "posts"`);
  if (linked && set.links.strutDiameterMm === undefined)
    issue(['links', 'strutDiameterMm'], undefined, `required when links.pattern is "${set.links.pattern}"`);
  if (set.layers[0].depthMm !== 0) issue(['layers', 0, 'depthMm'], set.layers[0].depthMm, 'the first layer is the reference; allowed: 0');

  const outer = outerNodeRadiusMm(set);
  if (outer <= 0) {
    issue(
      ['carrier', 'outsideDiameterMm'],
      set.carrier.outsideDiameterMm,
      `not larger than the thickest strut of layer 0; allowed: more than ${mm(set.carrier.outsideDiameterMm - 2 * outer)}`,
    );
    return;
  }
  const edge = idealEdge(T);
  let innermost = outer;
  set.layers.forEach((each, k) => {
    const radius = outer - each.depthMm;
    if (radius <= 0) {
      issue(['layers', k, 'depthMm'], each.depthMm, `reaches the centre; allowed: less than ${mm(outer)}, the node radius of layer 0`);
      return;
    }
    innermost = Math.min(innermost, radius);
    if (each.strutDiameterMm >= edge * radius) {
      issue(
        ['layers', k, 'strutDiameterMm'],
        each.strutDiameterMm,
        `not thinner than a cell edge; allowed: less than ${mm(edge * radius)} at T = ${T} and a node radius of ${mm(radius)}`,
      );
    }
    const above = set.layers[k - 1];
    if (above) {
      const least = (above.strutDiameterMm + each.strutDiameterMm) / 2;
      const gap = each.depthMm - above.depthMm;
      if (gap < least)
        issue(
          ['layers', k, 'depthMm'],
          each.depthMm,
          `lies ${mm(gap)} below layer ${k - 1}, so the layers touch; allowed: at least ${mm(above.depthMm + least)}`,
        );
    }
  });
  const link = set.links.strutDiameterMm;
  if (linked && link !== undefined && link >= edge * innermost) {
    issue(
      ['links', 'strutDiameterMm'],
      link,
      `not thinner than the smallest cell edge; allowed: less than ${mm(edge * innermost)} at a node radius of ${mm(innermost)}`,
    );
  }
}

export const parameterSet = shape.superRefine(refuse).meta({
  id: 'ParameterSet',
  description: 'What a version holds: the carrier, its tiling, one to four layers of struts and the links between them',
});
export type ParameterSet = z.infer<typeof parameterSet>;
export type ParameterSetInput = z.input<typeof parameterSet>;
