import { expect, it } from 'vitest';
import { workerMetrics } from '../../worker/metrics.ts';
import type { RunEnd } from '../../worker/run-failures.ts';

it('counts runs by what came of them, and tells how many are under way when asked', async () => {
  let running = 2;
  const metrics = workerMetrics(() => running);
  const end = (answer: RunEnd['answer']) => metrics.ended({ computationId: 'c1', attempts: 1, seconds: 0.2, answer });
  end({ kind: 'cancelled' });
  end({ kind: 'cancelled' });
  end({ kind: 'crashed', code: 'engine-out-of-memory', reason: 'heap' });
  const nothing = { count: 0, bytes: 0 };
  metrics.retired({ teamId: 't1', madeFiles: { count: 2, bytes: 700 }, pointResults: nothing });
  running = 3;
  const text = await metrics.registry.metrics();
  expect(text).toContain('strutwright_worker_runs_total{outcome="cancelled"} 2');
  expect(text).toContain('strutwright_worker_runs_total{outcome="engine-out-of-memory"} 1');
  expect(text).toContain('strutwright_worker_retired_total{what="made-file"} 2');
  expect(text).toContain('strutwright_worker_retired_bytes_total{what="made-file"} 700');
  expect(text).toContain('strutwright_worker_run_seconds_count 3');
  expect(text).toContain('strutwright_worker_running 3');
});
