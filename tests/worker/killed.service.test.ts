import { runWithKilledWorkers } from './killed.ts';

runWithKilledWorkers(50);
