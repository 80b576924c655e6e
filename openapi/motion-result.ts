import { z } from 'zod';
import { distribution } from './variation-result.ts';

const rollResult = z
  .strictObject({
    deviationMm: distribution
      .nullable()
      .meta({ description: 'From the straight line at the end of the way, without sign; null with fewer than two that arrived' }),
    largestDeviationMm: z.number(),
    deviationDeg: z.number().nullable().meta({ description: 'Root mean square as an angle from the start' }),
    starts: z.int(),
    arrived: z.int(),
    offsetAloneMm: z.number().meta({ description: 'What the centre of mass alone would do at its worst' }),
    balanceErrorPct: z.number(),
    assumptions: z.array(z.string()),
  })
  .meta({ id: 'RollResult', description: 'A rigid part on its outer node spheres, rolled over a flat floor from seeded attitudes' });

const spinResult = z
  .strictObject({
    wobbleDeg: z.number().meta({ description: 'Largest angle between the axis it turns about and the one it keeps in space' }),
    wanderDeg: z.number().meta({ description: 'How far the point it turns about wanders over the part' }),
    wobbleHz: z.number().nullable().meta({ description: 'null where nothing wobbles' }),
    circles: z.enum(['least', 'greatest', 'none']).meta({ description: 'The principal axis that the turning axis circles in the part' }),
    axisWobbleMm: z.number().meta({ description: 'Of the turning axis at the surface' }),
    centreWobbleMm: z.number().meta({ description: 'Of the middle about the centre of mass' }),
    unbalanceGMm: z.number(),
    centreSpeedMmS: z.number().meta({
      description:
        'Offset of the centre of mass times spin, which ISO 21940-11 grades rotors by: an analogy only, no grade exists for balls',
    }),
    centreOffsetPct: z.number().meta({ description: 'Of the radius' }),
  })
  .meta({ id: 'SpinResult', description: 'Thrown with a spin, without drag' });

export const motionResult = z.strictObject({ roll: rollResult.nullable(), spin: spinResult.nullable() }).meta({ id: 'MotionResult' });
