import { mkdir } from 'node:fs/promises';
import { readOptions, USAGE } from './options.ts';
import { startService, type TemporaryService } from './service.ts';
import { tellStory } from './story.ts';

/** The demo as a command: finds or starts a service, tells the story, and leaves nothing running whatever happens. Exit 0 or 1. */
const stopped = new AbortController();
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => stopped.abort(new Error(`Stopped by ${signal}.`)));
process.stdout.on('error', () => stopped.abort(new Error('Nobody reads on.')));

const say = (...lines: string[]) => void process.stdout.write(`${lines.join('\n')}\n`);

async function main(): Promise<void> {
  const options = readOptions(process.argv.slice(2), process.env);
  if (options === 'help') return say(USAGE);
  await makeFolder(options.out);
  let own: TemporaryService | null = null;
  try {
    if (!options.running) {
      say('Starting the service in a temporary folder, as on a machine that has nothing but Node ...');
      own = await startService(stopped.signal);
      say(`Ready in ${own.seconds.toFixed(1)} s at ${own.url}`);
    }
    const { url, key } = options.running ?? own!;
    await tellStory({ url, key, out: options.out, say, signal: stopped.signal });
  } finally {
    await own?.stop();
  }
}

main().catch((error: unknown) => {
  process.exitCode = 1;
  const reason = stopped.signal.aborted ? stopped.signal.reason : error;
  process.stderr.write(`\nThe demo ends without a result. ${sentence(reason)}\n`);
});

/** Before anything else: a result that cannot be written would be known too late. */
async function makeFolder(out: string): Promise<void> {
  await mkdir(out, { recursive: true }).catch((error: Error) => {
    throw new Error(`--out is ${out}, which cannot be made or written: ${error.message}`);
  });
}

/** The message of an error and of the error at the bottom of its causes. */
function sentence(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  let first: unknown = error;
  while (first instanceof Error && first.cause) first = first.cause;
  return first === error ? error.message : `${error.message}: ${first instanceof Error ? first.message : first}`;
}
