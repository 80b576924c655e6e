import { z } from 'zod';
import { between } from './common.ts';
import { LEAST_STRUT_MM, MOST_STRUT_MM, refusalsOf } from './parameter-refusals.ts';

const strutDiameterMm = between(LEAST_STRUT_MM, MOST_STRUT_MM);

export const carrier = z
  .strictObject({
    shape: z.literal('sphere'),
    outsideDiameterMm: between(5, 1000).meta({ description: 'Diameter of the sphere that circumscribes the finished object' }),
  })
  .meta({ id: 'Carrier' });

export const tiling = z
  .strictObject({
    kind: z.literal('goldberg'),
    m: z.int().min(0).max(20),
    n: z.int().min(0).max(20).meta({ description: 'n > m is the mirror twin of m > n' }),
    relaxation: z
      .enum(['none', 'equal-edges'])
      .default('none')
      .meta({ description: 'none: the projected icosahedron subdivision; equal-edges: struts of a layer as equal as the symmetry allows' }),
    orientation: z
      .enum(['split-plane', 'pentagon-up', 'hexagon-up'])
      .default('split-plane')
      .meta({ description: 'split-plane: z = 0 divides the object into two equal halves' }),
  })
  .meta({ id: 'Tiling', description: 'Goldberg polyhedron GP(m,n): T = m^2 + mn + n^2 from 1 to 400, 20T nodes, 30T struts, 10T+2 cells' });

export const layer = z
  .strictObject({
    depthMm: between(0, 500).meta({ description: "Centre-line depth below layer 0's centre line" }),
    strutDiameterMm,
  })
  .meta({ id: 'Layer' });

export const links = z
  .strictObject({
    pattern: z.enum(['posts', 'none']).meta({ description: 'posts: radial, node to node; none: one layer only' }),
    strutDiameterMm: strutDiameterMm.optional(),
  })
  .meta({ id: 'Links' });

export const parameterSet = z
  .strictObject({
    carrier,
    tiling,
    layers: z.array(layer).min(1).max(4).meta({ description: 'From the outside inwards; the first has depth 0' }),
    links: links.default({ pattern: 'none' }),
  })
  .superRefine(
    (set, context) => {
      for (const { path, message } of refusalsOf(set)) context.addIssue({ code: 'custom', path, message });
    },
    // The closed forms hold for fields that are each in range.
    { when: ({ issues }) => issues.length === 0 },
  )
  .meta({ id: 'ParameterSet', description: 'What a version holds: the carrier, its tiling, one to four layers of struts and the links' });
export type ParameterSet = z.infer<typeof parameterSet>;
export type ParameterSetInput = z.input<typeof parameterSet>;
