import { axisWords } from '../../openapi/field-words.ts';
import type { Result } from '../../openapi/result.ts';
import { list, shown, table } from './html.ts';

/** Of fewer parts nothing lies beyond one in forty. */
const LEAST_PARTS = 40;
const pct = (share: number): string => `${shown(100 * share)} %`;

/** How numbers spread over parts drawn as they may print, and how many parts meet the targets; nothing where that was not asked for. */
export function spreadOf({ variation }: Result): string {
  if (!variation) return '';
  const rows = Object.entries(variation.quantities).map(([path, { count, mean, deviation, quantiles }]) => {
    const at = (share: number) => shown(quantiles.find((each) => each.share === share)?.value);
    const most = count < LEAST_PARTS ? '–' : `${at(0.025)} to ${at(0.975)}`;
    return [axisWords(path), shown(count), shown(mean), shown(deviation), most];
  });
  const told = variation.targets.flatMap(({ quantity, within }) =>
    within ? [{ what: `the target of ${axisWords(quantity)}`, within }] : [],
  );
  if (variation.all) told.unshift({ what: 'every target that could be judged', within: variation.all });
  const shares = told.map(
    ({ what, within }) =>
      `${pct(within.share)} of ${shown(within.count)} parts meet ${what} (95 % sure: ${pct(within.from)} to ${pct(within.to)})`,
  );
  return table(['quantity', 'parts', 'mean', 'deviation', '95 of 100 parts'], rows) + list(shares);
}

/** How far off what was computed may be, where that is known. */
export function surenessOf({ joints, calibrated = [] }: Result): string {
  const rows = calibrated.map(({ quantity, value, low, high }) => [axisWords(quantity), shown(value), `${shown(low)} to ${shown(high)}`]);
  const bands = joints ? [`The stiffness of joints may differ from that of the solid by ${shown(joints.bandPct)} % either way.`] : [];
  const measured = rows.length > 0 ? table(['quantity', 'value', '95 % sure, for what the calibration leaves open'], rows) : '';
  return measured + list(bands);
}
