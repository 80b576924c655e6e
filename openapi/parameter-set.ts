import { z } from 'zod';
import { between } from './common.ts';
import { LEAST_STRUT_MM, MOST_STRUT_MM, refusalsOf } from './parameter-refusals.ts';
import { tilingOf } from './parameter-sizes.ts';

const strutDiameterMm = between(LEAST_STRUT_MM, MOST_STRUT_MM);

export const carrier = z
  .strictObject({
    shape: z.literal('sphere'),
    outsideDiameterMm: between(5, 1000).meta({ description: 'Diameter of the sphere that circumscribes the finished object' }),
  })
  .meta({ id: 'Carrier' });

const tilingFields = {
  kind: z.literal('goldberg'),
  cellSizeMm: between(0.5, 500)
    .optional()
    .meta({ description: 'Instead of m and n: mean size across flats of the cells of layer 0; the nearest T is taken' }),
  relaxation: z.enum(['none', 'equal-edges', 'equal-areas']).default('none').meta({
    description:
      'none: the projected icosahedron subdivision; equal-edges, equal-areas: struts or cells of a layer as equal as the symmetry allows',
  }),
  orientation: z
    .enum(['split-plane', 'pentagon-up', 'hexagon-up'])
    .default('split-plane')
    .meta({ description: 'split-plane: z = 0 divides the object into two equal halves' }),
};
const m = z.int().min(0).max(20);
const n = m.meta({ description: 'n > m is the mirror twin of m > n' });
const goldberg = 'Goldberg polyhedron GP(m,n): T = m^2 + mn + n^2 from 1 to 400, 20T nodes, 30T struts, 10T+2 cells';

export const tiling = z.strictObject({ m: m.optional(), n: n.optional(), ...tilingFields }).meta({ id: 'Tiling', description: goldberg });
const settledTiling = z
  .strictObject({ m, n, ...tilingFields })
  .meta({ id: 'SettledTiling', description: `${goldberg}; m and n are known` });

/** How struts depart from one diameter. */
const shaping = {
  taper: between(0.3, 2)
    .optional()
    .meta({ description: 'Diameter at mid-span over diameter at the ends; the strut gets a node at mid-span' }),
  gradient: z
    .strictObject({ axis: z.enum(['x', 'y', 'z']), fromFactor: between(0.2, 3), toFactor: between(0.2, 3) })
    .optional()
    .meta({ description: 'The diameter times a factor that runs straight from the negative to the positive side of the object' }),
};

export const layer = z
  .strictObject({
    depthMm: between(0, 500).meta({ description: "Centre-line depth below layer 0's centre line" }),
    strutDiameterMm,
    ...shaping,
  })
  .meta({ id: 'Layer' });

export const links = z
  .strictObject({
    pattern: z.enum(['posts', 'braced', 'none']).meta({
      description:
        'posts: radial, node to node; braced: posts and both diagonals between neighbouring posts, joined where they cross; none: one layer only',
    }),
    strutDiameterMm: strutDiameterMm.optional(),
    ...shaping,
  })
  .meta({ id: 'Links' });

const fieldsBesideTiling = {
  carrier,
  layers: z.array(layer).min(1).max(4).meta({ description: 'From the outside inwards; the first has depth 0' }),
  links: links.default({ pattern: 'none' }),
};

const description = 'What a version holds: the carrier, its tiling, one to four layers of struts and the links';
export const parameterSet = z
  .strictObject({ ...fieldsBesideTiling, tiling })
  .superRefine(
    (set, context) => {
      for (const { path, message } of refusalsOf(set)) context.addIssue({ code: 'custom', path, message });
    },
    // The closed forms hold for fields that are each in range.
    { when: ({ issues }) => issues.length === 0 },
  )
  .meta({ id: 'ParameterSet', description });
export type ParameterSet = z.infer<typeof parameterSet>;
export type ParameterSetInput = z.input<typeof parameterSet>;

/** A parameter set as it is evaluated: a cell size has been settled to m and n. */
export const settledParameterSet = z
  .strictObject({ ...fieldsBesideTiling, tiling: settledTiling })
  .meta({ id: 'SettledParameterSet', description: `${description}; m and n are known` });
export type SettledParameterSet = z.infer<typeof settledParameterSet>;

/** Names m and n of a checked parameter set: its own, or those of the tiling nearest to its cell size. */
export function settle(set: ParameterSet): SettledParameterSet {
  return { ...set, tiling: { ...set.tiling, ...tilingOf(set) } };
}
