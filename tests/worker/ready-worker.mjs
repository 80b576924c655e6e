// A worker whose threads answer at once with one result computed before: what is tested is the order of things, not the engine.
import { pino } from 'pino';
import { readEnvironment } from '../../dist/worker/environment.js';
import { startWorker } from '../../dist/worker/start.js';

const threadFile = new URL('../../dist/worker/bench/ready-thread.js', import.meta.url);
await startWorker(readEnvironment(process.env), { log: pino({ level: 'info' }), threadFile });
process.send?.('ready');
