import { z } from 'zod';
import { between, percent, price, recordKey, sourceByField } from './common.ts';
import { behaviour, checkBehaviour, modulusMPa } from './viscoelastic.ts';

/** From aerogel to platinum, with room. */
export const densityGCm3 = between(0.001, 25);
const shrinkage = between(0, 20);
const growth = between(-2, 2);
/** Smallest detail that prints. */
const detailMm = between(0.01, 100).nullable().default(null);

/** What a calibration leaves in the record that came of it. */
export const calibrationPart = z
  .strictObject({
    calibrationId: z.string().max(60).optional(),
    spreadPct: z
      .array(z.strictObject({ quantity: z.string().max(120), spreadPct: between(0, 1000) }))
      .max(20)
      .meta({
        description:
          'One standard deviation of what is predicted, by the dotted path of the quantity; root mean square over the versions measured',
      }),
  })
  .meta({ id: 'CalibrationPart' });

const values = {
  family: z
    .string()
    .min(1)
    .max(60)
    .meta({ description: 'Generic polymer class', examples: ['TPU'] }),
  densityGCm3: densityGCm3.meta({ description: 'Density of the part as it was printed, its pores included' }),
  modulusMPa: modulusMPa.meta({ description: 'Storage modulus at referenceHz' }),
  referenceHz: between(0.001, 1e6).default(30).meta({ description: 'Frequency the storage modulus and the loss factor hold at' }),
  poisson: between(0, 0.499).meta({ description: "Poisson's ratio" }),
  ...behaviour,
  quasiStaticModulusMPa: modulusMPa
    .nullable()
    .default(null)
    .meta({ description: 'Modulus of slow loading; null: the long-term modulus that follows from the loss factor or the terms' }),
  maxStrainPct: between(0.01, 1000).nullable().default(null).meta({ description: 'Strain a strut should not exceed' }),
  strainLife: z
    .strictObject({
      coefficientPct: between(0.01, 1e4),
      exponent: between(-2, -0.02),
      spreadFactor: between(1, 1000)
        .optional()
        .meta({ description: 'Lives scatter from cycles / spreadFactor to cycles * spreadFactor; absent: the usual scatter of fatigue' }),
    })
    .nullable()
    .default(null)
    .meta({ description: 'Strain amplitude in percent = coefficientPct * cycles ^ exponent; null: not known' }),
  bulkDensityGCm3: densityGCm3.meta({ description: 'Density of the loose powder cake' }),
  virginSharePct: percent.meta({ description: 'Refresh ratio: share of virgin powder in the blend' }),
  pricePerKg: price.meta({ description: 'Of virgin powder' }),
  minStrutMm: detailMm.meta({ description: 'Thinnest strut that prints reliably; null: not known' }),
  minGapMm: detailMm.meta({ description: 'Narrowest gap that stays open; null: not known' }),
  minOpeningMm: detailMm.meta({ description: 'Narrowest opening that powder leaves by; null: not known' }),
  shrinkagePct: z
    .tuple([shrinkage, shrinkage, shrinkage])
    .meta({ description: 'Along x, y, z; the build is scaled by 1 / (1 - shrinkage)' }),
  strutGrowthMm: z.strictObject({ inLayer: growth, upright: growth }).nullish().meta({
    description: 'How much thicker struts print than designed, on the diameter, in the layer and along the build axis; null: as designed',
  }),
  jointFactor: between(0.2, 3)
    .nullish()
    .meta({ description: 'Lengths over which joints hold struts, measured over computed; null: as computed' }),
  calibration: calibrationPart
    .nullish()
    .meta({ description: 'How uncertain predictions with a calibrated record are; null: not calibrated' }),
  source: sourceByField.default({}),
};

/** What is refused although each field is in range. */
const together = (value: Parameters<typeof checkBehaviour>[0], context: z.RefinementCtx) =>
  checkBehaviour(value, (path, message) => {
    const input = path.reduce<unknown>((at, key) => (at as Record<string | number, unknown> | undefined)?.[key], value);
    context.addIssue({ code: 'custom', path, message, input });
  });

/** A material posted inline: a key is welcome, not needed. */
export const inlineMaterial = z
  .strictObject({ key: recordKey.optional(), revision: z.int().min(1).optional(), ...values })
  .superRefine(together)
  .meta({ id: 'InlineMaterial' });
export const materialBody = z
  .strictObject({ key: recordKey, ...values })
  .superRefine(together)
  .meta({ id: 'MaterialBody', description: "A team's own material; posting a key again makes its next revision" });
export const material = z
  .strictObject({ key: recordKey, revision: z.int().min(1), builtIn: z.boolean(), ...values })
  .meta({ id: 'Material', description: 'A powder and the polymer it sinters to' });
export type InlineMaterial = z.infer<typeof inlineMaterial>;
export type MaterialBody = z.infer<typeof materialBody>;
export type Material = z.infer<typeof material>;
