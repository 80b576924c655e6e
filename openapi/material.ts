import { z } from 'zod';
import { money, percent, positive, recordKey, sourceByField } from './common.ts';

const values = {
  family: z
    .string()
    .min(1)
    .max(60)
    .meta({ description: 'Generic polymer class', examples: ['TPU'] }),
  densityGCm3: positive(25).meta({ description: 'Density of the part as sintered' }),
  modulusMPa: positive(1e6).meta({ description: 'Storage modulus at referenceHz' }),
  referenceHz: positive(1e6).default(30),
  poisson: z.number().min(0).lt(0.5),
  lossFactor: z.number().min(0).max(2),
  quasiStaticModulusMPa: positive(1e6).nullable().default(null),
  maxStrainPct: positive(1000).nullable().default(null),
  strainLife: z
    .strictObject({ coefficientPct: positive(1e4), exponent: z.number().lt(0).min(-2) })
    .nullable()
    .default(null),
  bulkDensityGCm3: positive(25).meta({ description: 'Density of the loose powder cake' }),
  virginSharePct: percent.meta({ description: 'Refresh ratio: share of virgin powder in the blend' }),
  pricePerKg: money,
  minStrutMm: positive(100).nullable().default(null),
  minGapMm: positive(100).nullable().default(null),
  minOpeningMm: positive(100).nullable().default(null),
  shrinkagePct: z
    .tuple([z.number().min(0).max(20), z.number().min(0).max(20), z.number().min(0).max(20)])
    .meta({ description: 'Along x, y, z; the build is scaled by 1 / (1 - shrinkage)' }),
  source: sourceByField.default({}),
};

/** A material posted inline: a key is welcome, not needed. */
export const inlineMaterial = z
  .strictObject({ key: recordKey.optional(), revision: z.int().min(1).optional(), ...values })
  .meta({ id: 'InlineMaterial' });
export const materialBody = z
  .strictObject({ key: recordKey, ...values })
  .meta({ id: 'MaterialBody', description: "A team's own material; posting a key again makes its next revision" });
export const material = z
  .strictObject({ key: recordKey, revision: z.int().min(1), builtIn: z.boolean(), ...values })
  .meta({ id: 'Material', description: 'A powder and the polymer it sinters to' });
export type InlineMaterial = z.infer<typeof inlineMaterial>;
export type MaterialBody = z.infer<typeof materialBody>;
export type Material = z.infer<typeof material>;
