export { type FreeSpin, freeSpin, worstWobbleDeg } from './free-spin.ts';
export { type RigidBody, rigidBodyOf } from './rigid-body.ts';
export { type RollTrack, roll } from './roll.ts';
export { type RollRefusal, type RollReport, type RollTest, rollTest } from './roll-test.ts';
export { unbalance } from './unbalance.ts';
