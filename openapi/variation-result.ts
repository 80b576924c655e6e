import { z } from 'zod';

export const share = z
  .strictObject({ hits: z.int(), count: z.int(), share: z.number(), from: z.number(), to: z.number() })
  .meta({ id: 'Share', description: 'Part of the samples, 0 to 1, with the 95 % interval of the share behind it' });

export const distribution = z
  .strictObject({
    count: z.int(),
    mean: z.number(),
    meanError: z.number(),
    deviation: z.number(),
    deviationError: z.number(),
    quantiles: z.array(z.strictObject({ share: z.number(), value: z.number(), error: z.number() })),
    histogram: z.strictObject({ from: z.number(), to: z.number(), counts: z.array(z.int()) }),
  })
  .meta({ id: 'Distribution', description: 'Errors are one standard deviation of what sampling leaves open' });

const scatters = [
  'diameterScatterMm',
  'partScatterMm',
  'driftMm',
  'scalePct',
  'upScalePct',
  'densityPct',
  'modulusPct',
  'directionPct',
] as const;

export const variationResult = z
  .strictObject({
    seed: z.int(),
    quantities: z.record(z.string(), distribution).meta({ description: 'By the dotted path of the number in a result' }),
    targets: z.array(
      z.strictObject({ quantity: z.string(), min: z.number().nullable(), max: z.number().nullable(), within: share.nullable() }),
    ),
    all: share.nullable().meta({ description: 'Parts that meet every target that could be judged' }),
    check: z
      .strictObject({ parts: z.int(), errors: z.record(z.string(), z.strictObject({ mean: z.number(), largest: z.number() })) })
      .meta({ description: 'Parts are weighed to first order; some of them exactly as well, and this is the difference' }),
    failedBounces: z.int().meta({ description: 'Dropped parts that gave no result and are left out' }),
    variation: z.strictObject({
      biasByAngle: z.array(z.strictObject({ angleDeg: z.number(), biasMm: z.number() })),
      ...(Object.fromEntries(scatters.map((name) => [name, z.number()])) as Record<(typeof scatters)[number], z.ZodNumber>),
    }),
    assumptions: z.array(z.string()).meta({ description: 'Where each value comes from that was not given' }),
  })
  .meta({ id: 'VariationResult', description: 'Parts drawn as they may print: how their numbers spread, and how many meet the targets' });
