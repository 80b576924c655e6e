import { mkdir } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { pino } from 'pino';
import { startEmbedded } from '../prisma/index.ts';
import { openClosers } from './closers.ts';
import { readEnvironment } from './environment.ts';
import { firstKey, firstKeyFile } from './first-key.ts';
import { run } from './run.ts';
import { openService } from './service.ts';
import { keepWorker } from './worker-process.ts';

/**
 * The whole service with one command: a PostgreSQL of its own unless DATABASE_URL names one, the API in this process, one worker process.
 */
const closers = openClosers();
const tell = (line: string) => void process.stdout.write(`${line}\n`);

run(async () => {
  const environment = readEnvironment(process.env, { database: 'optional' });
  const { dataDir, logLevel = 'warn' } = environment;
  const log = pino({ level: logLevel, base: { process: 'api' } });
  await mkdir(dataDir, { recursive: true });
  const databaseUrl = environment.databaseUrl ?? (await embedded(dataDir));

  const service = await openService({ ...environment, databaseUrl }, { log, closers });
  const key = await firstKey({ ...environment, keys: service.records.keys });
  if (key) tell(`The first admin key, shown this once and kept in ${firstKeyFile(dataDir)}:\n\n  ${key}\n`);

  const worker = keepWorker({
    file: fileURLToPath(new URL('../worker/main.js', import.meta.url)),
    env: { ...process.env, DATABASE_URL: databaseUrl, LOG_LEVEL: logLevel },
    onRestart: (reason, ms) => log.error(`the worker ${reason}; it is started again in ${ms} ms`),
  });
  closers.add(worker.stop);
  const [url] = await Promise.all([service.listen(), worker.started]);
  tell(`strutwright is ready at ${url} (documentation: ${url}/docs, data: ${dataDir})`);
}, closers);

async function embedded(dataDir: string): Promise<string> {
  const server = await startEmbedded({ dataDir });
  closers.add(() => server.stop());
  return server.databaseUrl;
}
