export { type Bounce, bounceLife, type LifeEstimate, type LifeOutcome } from './bounce-life.ts';
export { type Cycles, cyclesAt, FATIGUE_SCATTER, failedShare, type StrainLife, strainAt } from './strain-life.ts';
