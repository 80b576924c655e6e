export { compiled, type LaneMemory, laneMemory } from './compile.ts';
export { type Address, type LaneProgram, type Lanes, laneProgram, type Pair } from './lane-program.ts';
