import { parseArgs } from 'node:util';

export interface Options {
  /** Folder for the files. */
  out: string;
  /** A service that is already running; null: the demo starts one of its own. */
  running: { url: string; key: string } | null;
}

export const USAGE = `npm run demo                    starts a service of its own, and stops it at the end
npm run demo -- --out folder    writes the files there instead of out/league
SERVICE_URL=http://... SERVICE_KEY=... npm run demo    uses the service that runs there`;

/** Reads the command line and the environment. Throws a sentence that names what is wrong and what is allowed. */
export function readOptions(args: string[], environment: NodeJS.ProcessEnv): Options | 'help' {
  const { values } = parseArgs({ args, options: { out: { type: 'string', default: 'out/league' }, help: { type: 'boolean' } } });
  if (values.help) return 'help';
  if (values.out === '') throw new Error('--out is empty; allowed: the path of a folder');
  return { out: values.out, running: runningService(environment) };
}

function runningService({ SERVICE_URL: url, SERVICE_KEY: key }: NodeJS.ProcessEnv): Options['running'] {
  if (!url && !key) return null;
  if (!url || !key) throw new Error('SERVICE_URL and SERVICE_KEY go together; allowed: both, or neither');
  if (!/^https?:\/\//.test(url) || !URL.canParse(url))
    throw new Error(`SERVICE_URL is ${url}; allowed: a URL such as http://127.0.0.1:8080`);
  return { url: url.replace(/\/+$/, ''), key };
}
