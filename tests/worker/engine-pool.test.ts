import { expect, it } from 'vitest';
import { openEnginePool } from '../../worker/engine-pool.ts';

const options = { threads: 1, memoryMb: 256, onError: () => undefined };
const module = (text: string) => new URL(`data:text/javascript,${encodeURIComponent(text)}`);

it.each([
  ['is not there', new URL('file:///nowhere/engine.js'), /the engine cannot be loaded \(.*nowhere\/engine\.js.*\): .*Cannot find module/],
  ['throws as it loads', module('throw new Error("half a build")'), /cannot be loaded .*: half a build/],
  ['ends its thread', module('process.exit(3)'), /cannot be loaded .*: its thread ended with code 3/],
])('refuses to open on a module that %s, at once', async (_, threadFile, reason) => {
  await expect(openEnginePool({ ...options, threadFile })).rejects.toThrow(reason);
});

it('opens on a module that loads', async () => {
  await (await openEnginePool({ ...options, threadFile: module('export default () => undefined') })).close();
});
