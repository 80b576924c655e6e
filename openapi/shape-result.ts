import { z } from 'zod';

const vector = z.tuple([z.number(), z.number(), z.number()]);
const tensor = z.tuple([vector, vector, vector]);
const range = z.strictObject({ min: z.number(), mean: z.number(), max: z.number() });

export const geometryResult = z
  .strictObject({
    triangulationNumber: z.int(),
    cellSizeMm: z.number().meta({ description: 'Mean size across flats of the cells of layer 0' }),
    neighbouringTilings: z
      .array(z.strictObject({ m: z.int(), n: z.int(), triangulationNumber: z.int(), cellSizeMm: z.number() }))
      .meta({ description: 'The next larger and next smaller cells on this carrier' }),
    nodeCount: z.int(),
    strutCount: z.int(),
    cellCount: z.int().meta({ description: 'Cells of one layer' }),
    pentagonCount: z.int(),
    hexagonCount: z.int(),
    nodeRadiusMm: z.array(z.number()).meta({ description: 'Centre-line node radius of each layer' }),
    outsideDiameterMm: z.number(),
    circumferenceMm: z.number().meta({ description: 'pi times the mean caliper width of the convex hull' }),
    strutLengthMm: range,
    cellOpeningMm: z.array(z.strictObject({ layer: z.int(), min: z.number(), max: z.number() })),
    edgeUniformityPct: z.number().meta({ description: '100 (max - min) / mean of the strut lengths of layer 0' }),
    distinctStrutLengths: z.int().meta({ description: 'Strut lengths of layer 0 that differ by more than 1e-6 of the mean' }),
    strutsAcrossSplitPlane: z.int().meta({ description: 'Struts whose centre line crosses z = 0' }),
  })
  .meta({ id: 'GeometryResult' });

export const massPropertiesResult = z
  .strictObject({
    volumeMm3: z.number(),
    massG: z.number(),
    sumOfCylindersMassG: z.number(),
    relativeDensityPct: z.number().meta({ description: 'Of the circumscribed sphere' }),
    centreOfMassMm: vector,
    inertiaGMm2: tensor.meta({ description: 'About the centre of mass' }),
    principalInertiaGMm2: vector,
  })
  .meta({ id: 'MassPropertiesResult', description: 'Of the union of all struts and node spheres' });

export const balanceResult = z
  .strictObject({
    halfMassDifferencePct: z.number().meta({ description: 'Across z = 0, of the whole mass' }),
    largestHalfMassDifferencePct: z.number().meta({ description: 'Over 2 000 planes through the centre' }),
    centreOfMassOffsetMm: z.number(),
    inertiaSpreadPct: z.number(),
    radialRunoutMm: z.number(),
  })
  .meta({ id: 'BalanceResult' });
