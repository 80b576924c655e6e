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
  referenceHz: positive(1e6).default(30).meta({ description: 'Frequency the storage modulus and the loss factor hold at' }),
  poisson: z.number().min(0).lt(0.5).meta({ description: "Poisson's ratio" }),
  lossFactor: z.number().min(0).max(2).meta({ description: 'tan delta, taken as constant about referenceHz' }),
  quasiStaticModulusMPa: positive(1e6)
    .nullable()
    .default(null)
    .meta({ description: 'Modulus of slow loading; null: the long-term modulus that follows from the loss factor' }),
  maxStrainPct: positive(1000).nullable().default(null).meta({ description: 'Strain a strut should not exceed' }),
  strainLife: z
    .strictObject({ coefficientPct: positive(1e4), exponent: z.number().lt(0).min(-2) })
    .nullable()
    .default(null)
    .meta({ description: 'Strain amplitude in percent = coefficientPct * cycles ^ exponent; null: not known' }),
  bulkDensityGCm3: positive(25).meta({ description: 'Density of the loose powder cake' }),
  virginSharePct: percent.meta({ description: 'Refresh ratio: share of virgin powder in the blend' }),
  pricePerKg: money.meta({ description: 'Of virgin powder' }),
  minStrutMm: positive(100).nullable().default(null).meta({ description: 'Thinnest strut that prints reliably; null: not known' }),
  minGapMm: positive(100).nullable().default(null).meta({ description: 'Narrowest gap that stays open; null: not known' }),
  minOpeningMm: positive(100).nullable().default(null).meta({ description: 'Narrowest opening that powder leaves by; null: not known' }),
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
