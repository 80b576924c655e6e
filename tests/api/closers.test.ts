import { expect, test } from 'vitest';
import { openClosers } from '../../api/closers.ts';

test('what was opened last is closed first, each once, and a failure keeps nothing else open', async () => {
  const closed: string[] = [];
  const closers = openClosers();
  closers.add(async () => closed.push('database'));
  closers.add(async () => {
    closed.push('queue');
    throw new Error('the queue does not close');
  });
  closers.add(async () => closed.push('http'));
  await expect(closers.closeAll()).rejects.toThrow('the queue does not close');
  expect(closed).toEqual(['http', 'queue', 'database']);
  await closers.closeAll();
  expect(closed).toHaveLength(3);
});
