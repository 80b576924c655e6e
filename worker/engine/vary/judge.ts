import { type Share, shareOf } from '../probability/index.ts';

/** A target by the path of its quantity; without limits it cannot be met or missed. */
export interface Band {
  readonly quantity: string;
  readonly min?: number;
  readonly max?: number;
}

/** The share of parts within each band, and within all that can be judged at once; values by quantity and part, with gaps where a part has none. */
export function judge(values: Readonly<Record<string, readonly number[]>>, bands: readonly Band[]) {
  const meets = ({ quantity, min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY }: Band, k: number) =>
    values[quantity][k] >= min && values[quantity][k] <= max;
  const judged = bands.filter((band) => values[band.quantity] !== undefined && (band.min !== undefined || band.max !== undefined));
  const share = (of: readonly Band[]): Share => {
    const most = Math.max(...of.map(({ quantity }) => values[quantity].length));
    const parts = Array.from({ length: most }, (_, k) => k).filter((k) => of.every(({ quantity }) => values[quantity][k] !== undefined));
    return shareOf(parts.filter((k) => of.every((band) => meets(band, k))).length, parts.length);
  };
  return {
    targets: bands.map((band) => ({ ...band, within: judged.includes(band) ? share([band]) : null })),
    all: judged.length > 0 ? share(judged) : null,
  };
}
