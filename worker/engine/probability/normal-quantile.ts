import { normalShare } from './normal-share.ts';
import { rootOf } from './root.ts';

/** The deviation below which this share of a normal distribution lies, 0 < share < 1. */
export const normalQuantile = (share: number): number =>
  share < 0.5 ? -normalQuantile(1 - share) : rootOf((x) => normalShare(x) - share, { from: 0, step: 1 });
