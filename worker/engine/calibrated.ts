import { spread } from './calibration/index.ts';
import { numberAt } from './targets.ts';

/** What a calibrated material record says of its predictions: one standard deviation in percent, by the dotted path of a quantity. */
export interface CalibrationSpread {
  readonly spreadPct: readonly { readonly quantity: string; readonly spreadPct: number }[];
}

/** A predicted number with the spread of the calibration behind it: 95 %, both sides. */
export interface CalibratedValue {
  quantity: string;
  value: number;
  standardError: number;
  low: number;
  high: number;
}

/** The numbers of a result that the calibration of its material says something of; null without one. */
export function calibratedSpread(figures: object, calibration: CalibrationSpread | null): CalibratedValue[] | null {
  if (!calibration) return null;
  return calibration.spreadPct.flatMap(({ quantity, spreadPct }) => {
    const value = numberAt(figures, quantity);
    return value !== null && value > 0 ? [{ quantity, ...spread(Math.log(value), spreadPct / 100), value }] : [];
  });
}
