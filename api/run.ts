import type { Closers } from './closers.ts';

/** Longest time for closing everything; what is left then is cut off. */
const CLOSE_WITHIN_MS = 20_000;

/**
 * The life of a process: starts, waits for SIGINT, SIGTERM or SIGHUP (one that comes while starting counts too), closes what was opened and
 * exits. Repeated signals change nothing: a terminal sends one to every process of its group, and npm passes on another. A start that fails
 * closes what it had opened, says why in a sentence and exits with 1; so does an error that nobody caught.
 */
export function run(start: () => Promise<void>, closers: Closers): void {
  const started = start();
  let stopping = false;
  const stop = async (code: number) => {
    if (stopping) return;
    stopping = true;
    setTimeout(() => process.exit(1), CLOSE_WITHIN_MS).unref();
    await started.catch(() => undefined);
    await closers.closeAll().catch((error: unknown) => {
      code = 1;
      say(`Not everything closed cleanly: ${sentence(error)}`);
    });
    process.exit(code);
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop(0));
  process.on('uncaughtException', (error) => {
    say(`Stopping after an error that nobody caught: ${error.stack}`);
    void stop(1);
  });
  started.catch((error: unknown) => {
    say(`strutwright cannot start: ${sentence(error)}`);
    void stop(1);
  });
}

const say = (text: string) => void process.stderr.write(`${text}\n`);

/** Errors of the network often carry no message, but a code or the errors they gather. */
function sentence(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const { code } = error as NodeJS.ErrnoException;
  if (error instanceof AggregateError && !error.message) return error.errors.map(sentence).join('; ');
  const said = error.message || code || error.name;
  return error.cause instanceof Error ? `${said}: ${sentence(error.cause)}` : said;
}
