import { z } from 'zod';
import { between } from './common.ts';
import { QUANTITIES } from './quantities.ts';

/** A short name, or the dotted path of a numeric leaf of a result: whether a path leads to a number is known once there is a result. */
const isQuantity = (name: string) => name.includes('.') || (QUANTITIES as string[]).includes(name);

const FARTHEST_LIMIT = 1e12;
const LEAST_LIMIT = 1e-9;
/** A miss is told in percent of a limit, so a limit is 0 or not too close to it. */
const bound = between(-FARTHEST_LIMIT, FARTHEST_LIMIT)
  .refine((value) => value === 0 || Math.abs(value) >= LEAST_LIMIT, `allowed: 0, or at least ${LEAST_LIMIT} away from it`)
  .optional();

export const target = z
  .strictObject({
    quantity: z
      .string()
      .min(1)
      .max(120)
      .regex(/^[A-Za-z0-9]+(?:\.[A-Za-z0-9]+)*$/, 'a short name or the dotted path of a numeric leaf of a result')
      .meta({ examples: ['massG'] }),
    min: bound,
    target: bound,
    max: bound,
    weight: between(0.001, 1e6).optional(),
  })
  .superRefine((value, context) => {
    const { quantity, min, target: aim, max } = value;
    if (!isQuantity(quantity)) {
      const message = `not a known quantity; allowed: ${QUANTITIES.join(', ')}, or the dotted path of a number in a result`;
      context.addIssue({ code: 'custom', path: ['quantity'], input: quantity, message });
    }
    if (min === undefined && aim === undefined && max === undefined)
      context.addIssue({ code: 'custom', path: [], input: value, message: 'has no limit; required: at least one of min, target and max' });
    if (min !== undefined && max !== undefined && min > max)
      context.addIssue({ code: 'custom', path: ['min'], input: min, message: `above max; allowed: at most ${max}` });
    if (aim !== undefined && ((min !== undefined && aim < min) || (max !== undefined && aim > max))) {
      context.addIssue({
        code: 'custom',
        path: ['target'],
        input: aim,
        message: `lies outside its own band; allowed: ${min ?? 'no lower limit'} to ${max ?? 'no upper limit'}`,
      });
    }
  })
  .meta({ id: 'Target', description: 'A band for one quantity of a result' });
export type Target = z.infer<typeof target>;
