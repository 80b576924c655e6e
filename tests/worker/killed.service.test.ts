import { runWithKilledWorkers } from './killed.ts';

runWithKilledWorkers(20);
