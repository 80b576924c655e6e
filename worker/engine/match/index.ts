export { type Conflict, conflictOf, type OutOfReach } from './conflict.ts';
export { meetsAll, missOf } from './misses.ts';
export { type FreeNumber, keyOf, type Outcome, type Point, type SearchProblem, type Trial } from './problem.ts';
export { ranked } from './ranking.ts';
export { type SearchEnd, search } from './search.ts';
export { type Sensitivity, sensitivities } from './sensitivities.ts';
export { verdict } from './verdict.ts';
