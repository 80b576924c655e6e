export { type Deviates, deviates, deviatesOf } from './deviates.ts';
export { type Distribution, distribution } from './distribution.ts';
export { normalShare } from './normal-share.ts';
export { type Share, shareOf, Z95 } from './score-interval.ts';
export { stream, xoshiro128 } from './xoshiro.ts';
