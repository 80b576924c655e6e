import { readFileSync } from 'node:fs';
import { BroadcastChannel } from 'node:worker_threads';

/** What one run took of its thread, milliseconds. */
export interface EngineTime {
  readonly wallMs: number;
  /** On a core. */
  readonly cpuMs: number;
  /** Ready to go on while other programs had the cores; 0 where the system does not say. */
  readonly waitedMs: number;
}

const CHANNEL = 'engine-times';

/** Does the work and tells whoever listens in this process what it took of this thread. */
export async function tellingTime<T>(work: () => Promise<T>): Promise<T> {
  const before = now();
  const answer = await work();
  const after = now();
  const channel = new BroadcastChannel(CHANNEL);
  channel.postMessage({
    wallMs: after.wallMs - before.wallMs,
    cpuMs: after.cpuMs - before.cpuMs,
    waitedMs: after.waitedMs - before.waitedMs,
  });
  channel.close();
  return answer;
}

/** Calls back for every time told until closed. */
export function hearTimes(hear: (time: EngineTime) => void): { close(): void } {
  const channel = new BroadcastChannel(CHANNEL);
  channel.onmessage = (event) => hear((event as { data: EngineTime }).data);
  return { close: () => channel.close() };
}

/** Of this thread. Linux counts both in nanoseconds (Documentation/scheduler/sched-stats.rst); elsewhere the clock stands for the processor. */
function now(): EngineTime {
  const wallMs = performance.now();
  try {
    const [cpu, waited] = readFileSync('/proc/thread-self/schedstat', 'utf8').split(' ').map(Number);
    return { wallMs, cpuMs: cpu / 1e6, waitedMs: waited / 1e6 };
  } catch {
    return { wallMs, cpuMs: wallMs, waitedMs: 0 };
  }
}
