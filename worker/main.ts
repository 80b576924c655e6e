import { pino } from 'pino';
import { BadEnvironment, readEnvironment } from './environment.ts';
import { type RunningWorker, startWorker } from './start.ts';

/** Longest time for giving runs back and closing; the queue itself takes over what is left then. */
const DRAIN_WITHIN_MS = 7_000;

try {
  const environment = readEnvironment(process.env);
  const log = pino({ level: environment.logLevel, base: { process: 'worker' } });
  const worker = await startWorker(environment, { log, threadFile: new URL('./engine-thread.js', import.meta.url) });
  drainOnStop(worker);
  if (process.connected) process.send?.('ready');
} catch (error) {
  process.stderr.write(`${error instanceof BadEnvironment ? error.message : `The worker cannot start: ${said(error)}`}\n`);
  process.exit(1);
}

/** Drains once, on SIGTERM, SIGINT, or when the process that started this one over a channel is gone. */
function drainOnStop(worker: RunningWorker): void {
  let stopping = false;
  const stop = () => {
    if (stopping) return;
    stopping = true;
    setTimeout(() => process.exit(1), DRAIN_WITHIN_MS).unref();
    worker.drain().then(
      () => process.exit(0),
      (error) => {
        process.stderr.write(`The worker did not stop cleanly: ${said(error)}\n`);
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', stop).on('SIGINT', stop).on('disconnect', stop);
  if (process.connected === false) stop();
}

function said(error: unknown): string {
  return error instanceof Error ? error.message || error.name : String(error);
}
