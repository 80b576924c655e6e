/** Times of one piece of work, milliseconds. */
export interface Spread {
  readonly minMs: number;
  readonly medianMs: number;
  readonly maxMs: number;
}

export interface Timed<T> extends Spread {
  /** Processor time of one run on the average: what else the machine does hardly adds to it. */
  readonly cpuMs: number;
  readonly last: T;
}

/** Does the work `warmUps` times untimed, so that it is compiled, then `runs` times by the clock. */
export async function timed<T>(work: () => T | Promise<T>, { warmUps, runs }: { warmUps: number; runs: number }): Promise<Timed<T>> {
  for (let k = 0; k < warmUps; k++) await work();
  const times: number[] = [];
  const cpu = process.cpuUsage();
  let last: T | undefined;
  for (let k = 0; k < runs; k++) {
    const started = performance.now();
    last = await work();
    times.push(performance.now() - started);
  }
  const { user, system } = process.cpuUsage(cpu);
  return { ...spreadOf(times), cpuMs: (user + system) / 1000 / runs, last: last as T };
}

export function spreadOf(times: readonly number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b);
  return { minMs: sorted[0], medianMs: sorted[Math.floor(sorted.length / 2)], maxMs: sorted[sorted.length - 1] };
}

/**
 * Does several pieces of work in turn, round after round, so that what else the machine does falls on all alike; `cpuMs` is that of each one's
 * least disturbed round.
 */
export function inTurn<T>(works: readonly (() => T)[], { warmUps, rounds }: { warmUps: number; rounds: number }): Timed<T>[] {
  for (let k = 0; k < warmUps; k++) for (const work of works) work();
  const found = works.map((work) => ({ work, times: [] as number[], cpuMs: Number.POSITIVE_INFINITY, last: undefined as T | undefined }));
  for (let round = 0; round < rounds; round++) {
    for (const each of found) {
      const started = performance.now();
      const cpu = process.cpuUsage();
      each.last = each.work();
      const { user, system } = process.cpuUsage(cpu);
      each.times.push(performance.now() - started);
      each.cpuMs = Math.min(each.cpuMs, (user + system) / 1000);
    }
  }
  return found.map(({ times, cpuMs, last }) => ({ ...spreadOf(times), cpuMs, last: last as T }));
}
