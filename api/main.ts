import { pino } from 'pino';
import { openClosers } from './closers.ts';
import { readEnvironment } from './environment.ts';
import { firstKey } from './first-key.ts';
import { run } from './run.ts';
import { openService } from './service.ts';

/** The API process alone: `npm run start:api`. */
const closers = openClosers();
run(async () => {
  const { databaseUrl, ...environment } = readEnvironment(process.env, { database: 'required' });
  const log = pino({ level: environment.logLevel ?? 'info', base: { process: 'api' } });
  const service = await openService({ ...environment, databaseUrl: databaseUrl! }, { log, closers });
  const key = await firstKey({ ...environment, keys: service.records.keys });
  if (key) process.stdout.write(`The first admin key, shown this once: ${key}\n`);
  await service.listen();
}, closers);
