export { type Balance, balance } from './balance.ts';
export { type Growth, growthOf } from './growth.ts';
export { halfDifference } from './halves.ts';
export { type MassProperties, massProperties, type Tensor, type Vector } from './mass-properties.ts';
export { meanWidth } from './mean-width.ts';
export { MOMENTS, type Moments } from './moments.ts';
export { type LayerProfile, slice } from './slices.ts';
export { findTouching } from './touching.ts';
export { integrateUnion, type Union, type UnionSurface, unionSurface } from './union.ts';
