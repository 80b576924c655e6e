import { runWithKilledWorkers } from './killed.ts';

runWithKilledWorkers(200);
