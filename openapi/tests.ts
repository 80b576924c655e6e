import { z } from 'zod';
import { between } from './common.ts';
import { temperatureC } from './viscoelastic.ts';

export const seed = z
  .int()
  .min(0)
  .max(2 ** 31 - 1);

const drag = z
  .strictObject({ coefficient: between(0, 2), airDensityKgM3: between(0, 10).default(1.204) })
  .meta({ id: 'Drag', description: 'Air drag on the way down and up: 1/2 density coefficient area v^2, of the circumscribed sphere' });

const oblique = z
  .strictObject({
    angleDeg: between(0, 80).default(45).meta({ description: 'Of the way in to the upright' }),
    speedMS: between(0.1, 20).optional().meta({ description: 'Default: the speed that the drop ends with' }),
    spinRadS: between(-500, 500).default(0).meta({ description: 'Before the bounce; positive: as of a ball that rolls the way it flies' }),
    friction: between(0, 2).default(0.5),
  })
  .meta({ id: 'Oblique', description: 'Besides the drop, a throw at the floor in each orientation' });

/** Options without a default of their own are settled by the engine, so that an input that leaves them out stays the same input. */
const drop = z
  .strictObject({
    heightMm: between(1, 20_000)
      .optional()
      .meta({ description: "Of the part's lowest point; default: dropHeightMm of the reference, else 1800 with a warning" }),
    orientations: z.int().min(1).max(200).default(6),
    seed: seed.optional().meta({ description: 'Of the directions beyond those of the symmetry axes; default 1' }),
    friction: between(0, 2).optional().meta({ description: 'Coefficient of friction on the floor; default 0' }),
    drag: drag.optional(),
    oblique: oblique.optional(),
  })
  .meta({ id: 'DropTest' });

const compression = z
  .strictObject({ toPctOfDiameter: between(0.1, 60).default(15), secantAtPct: between(0.1, 60).default(10) })
  .superRefine(({ toPctOfDiameter, secantAtPct }, context) => {
    if (secantAtPct > toPctOfDiameter)
      context.addIssue({
        code: 'custom',
        path: ['secantAtPct'],
        message: `beyond toPctOfDiameter; allowed: at most ${toPctOfDiameter}`,
      });
  })
  .meta({ id: 'CompressionTest' });

const scatterMm = between(0, 5).optional();
const scatterPct = between(0, 20).optional();
const variation = z
  .strictObject({
    parts: z.int().min(10).max(20_000).default(2000).meta({ description: 'Parts that are drawn and weighed' }),
    bouncingParts: z.int().min(0).max(200).default(20).meta({ description: 'Of those, parts that are dropped too, at depth full' }),
    seed: seed.default(1),
    biasByAngle: z
      .array(z.strictObject({ angleDeg: between(0, 90), biasMm: between(-2, 2) }))
      .max(20)
      .optional()
      .meta({ description: "Mean change of a strut's diameter by its angle to the build axis: 0 upright, 90 in the layer" }),
    diameterScatterMm: scatterMm.meta({ description: 'Of each strut by itself' }),
    partScatterMm: scatterMm.meta({ description: 'Of all diameters of a part together' }),
    driftMm: scatterMm.meta({ description: 'Of the difference of diameters between two opposite sides of a part' }),
    scalePct: scatterPct.meta({ description: "Of a part's size" }),
    upScalePct: scatterPct.meta({ description: 'Of its size along the build axis over that in the layer' }),
    densityPct: scatterPct,
    modulusPct: scatterPct,
    directionPct: scatterPct.meta({ description: 'Of the modulus along the build axis over that in the layer' }),
  })
  .meta({
    id: 'VariationTest',
    description: 'Printed parts differ: standard deviations; what is left out takes a common value, which the result names',
  });

const motion = z
  .strictObject({
    roll: z
      .strictObject({
        distanceMm: between(10, 20_000).default(5000),
        speedMS: between(0.1, 20).default(2),
        starts: z.int().min(1).max(1000).default(20).meta({ description: 'Attitudes it is started from' }),
        seed: seed.default(1),
        friction: between(0, 2).default(0.6),
        stiffnessNPerMm: between(0.01, 1e6).optional().meta({
          description:
            'Of one node sphere on the floor; default: twice the initial stiffness between plates where the depth computes it, else nearly rigid',
        }),
      })
      .optional(),
    spin: z
      .strictObject({
        spinRadS: between(0.1, 1000).default(30),
        axis: z
          .tuple([between(-1, 1), between(-1, 1), between(-1, 1)])
          .refine((axis) => Math.hypot(...axis) >= 0.1, 'a direction: its length at least 0.1')
          .default([1, 1, 1])
          .meta({ description: "What it spins about, in the part's axes" }),
      })
      .optional(),
  })
  .meta({ id: 'MotionTest', description: 'The part as a rigid body: rolled over a floor, spun in the air; at any depth' });

export const tests = z
  .strictObject({
    depth: z.enum(['geometry', 'static', 'full']).default('geometry').meta({
      description:
        'geometry: no mechanics; static: also compression, frequencies and buckling; full: also the drop, life, and what is asked for',
    }),
    temperatureC: temperatureC.optional().meta({ description: "Within the material's table by temperature" }),
    drop: drop.optional(),
    compression: compression.optional(),
    variation: variation.optional(),
    motion: motion.optional(),
    frequencies: z.int().min(0).max(50).optional().meta({ description: 'How many of the lowest natural frequencies; default 10' }),
  })
  .meta({ id: 'Tests' });
export type Tests = z.infer<typeof tests>;
