import { z } from 'zod';

/**
 * Units that may be given, as what one of them is in the unit the service keeps. Exact by definition: the inch and the pound of 1959, the
 * standard gravity of 1901 (values from memory).
 */
const INCH_MM = 25.4;
const POUND_G = 453.59237;
const GRAVITY = 9.80665;
export const MASS = { g: 1, kg: 1000, mg: 0.001, oz: POUND_G / 16, lb: POUND_G } as const;
export const LENGTH = { mm: 1, cm: 10, m: 1000, um: 0.001, in: INCH_MM, ft: 12 * INCH_MM } as const;
export const FORCE = { N: 1, kN: 1000, mN: 0.001, kgf: GRAVITY, lbf: (GRAVITY * POUND_G) / 1000 } as const;
export const DURATION = { ms: 1, s: 1000, us: 0.001 } as const;

/** Digits that are kept of a converted number: what lies behind is rounding of the conversion. */
const DIGITS = 12;
export const tidy = (value: number): number => Number(value.toPrecision(DIGITS));

export const unitOf = <T extends Record<string, number>>(units: T) => z.enum(Object.keys(units) as [keyof T & string]);

/** The number in the unit that is kept. */
export const converted = <T extends Record<string, number>>(value: number, unit: keyof T, units: T): number => tidy(value * units[unit]);

export const temperature = z
  .strictObject({ value: z.number().min(-459.67).max(1000), unit: z.enum(['degC', 'degF', 'K']) })
  .meta({ id: 'Temperature' });
export type Temperature = z.infer<typeof temperature>;

export function celsius({ value, unit }: Temperature): number {
  if (unit === 'degF') return tidy(((value - 32) * 5) / 9);
  return unit === 'K' ? tidy(value - 273.15) : value;
}
