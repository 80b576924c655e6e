import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { main } from '../../worker/cli/main.ts';

export const SHIM = 'worker/strutwright.mjs';

export interface Ended {
  code: number;
  stdout: string;
  stderr: string;
}

/** Runs the command in this process; stdout and stderr apart. */
export async function command(args: string[]): Promise<Ended> {
  const heard = { stdout: '', stderr: '' };
  const to = (stream: keyof typeof heard) => ({ write: (text: string) => void (heard[stream] += text) });
  return { code: await main(args, { stdout: to('stdout'), stderr: to('stderr') }), ...heard };
}

/** Runs it as a process of its own. */
export const run = (args: string[], shim = SHIM): Promise<Ended> => execute(process.execPath, [shim, ...args]);

export function execute(file: string, args: string[]): Promise<Ended> {
  return new Promise((resolve) => {
    execFile(file, args, { maxBuffer: 64 * 1024 * 1024 }, (error, stdout, stderr) => {
      resolve({ code: error ? Number(error.code) : 0, stdout, stderr });
    });
  });
}

/** A folder of its own for the files of one test file. */
export async function openFolder() {
  const folder = await mkdtemp(join(tmpdir(), 'strutwright-cli-'));
  return {
    path: (name: string) => join(folder, name),
    write: async (name: string, content: unknown): Promise<string> => {
      const path = join(folder, name);
      await writeFile(path, typeof content === 'string' ? content : JSON.stringify(content));
      return path;
    },
    close: () => rm(folder, { recursive: true, force: true }),
  };
}
export type Folder = Awaited<ReturnType<typeof openFolder>>;
