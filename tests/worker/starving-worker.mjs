import { pino } from 'pino';
import { readEnvironment } from '../../dist/worker/environment.js';
import { startWorker } from '../../dist/worker/start.js';

/** The worker as it is, with an engine whose thread runs out of memory: the real one needs too little to be starved in a test's time. */
await startWorker(readEnvironment(process.env), { log: pino(), threadFile: new URL('./starving-thread.mjs', import.meta.url) });
process.send('ready');
