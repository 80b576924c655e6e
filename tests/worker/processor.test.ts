import { describe, expect, it } from 'vitest';
import { JOB_NAMES, jobOptions } from '../../openapi/jobs.ts';
import { type Handler, processorOf } from '../../worker/processor.ts';

const handler = (name: string): Handler => ({ name: name as Handler['name'], handle: async () => undefined });
const all = JOB_NAMES.map(handler);

describe('processor', () => {
  it('starts with exactly one handler for every job name', () => {
    expect(() => processorOf(all)).not.toThrow();
  });

  it('refuses to start when a name has none, two, or does not exist', () => {
    expect(() => processorOf([])).toThrow('"evaluate" has no handler');
    expect(() => processorOf([...all, handler('evaluate')])).toThrow('"evaluate" has more than one handler');
    expect(() => processorOf([...all, handler('polish')])).toThrow('"polish" is not the name of a job');
  });
});

describe('how a job is queued', () => {
  const priority = (teamOutstanding: number) => jobOptions('id', { teamOutstanding }).priority;

  it('puts a team with fewer outstanding runs first, and never leaves the priority unset', () => {
    expect(priority(0)).toBeGreaterThan(0);
    expect(priority(3)).toBeLessThan(priority(200));
  });

  it('stays within its class however many runs are outstanding', () => {
    expect(priority(1e9) - priority(0)).toBe(9_999);
  });
});
