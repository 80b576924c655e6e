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
