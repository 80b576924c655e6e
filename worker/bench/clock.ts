/** Times of one piece of work, milliseconds. */
export interface Spread {
  readonly minMs: number;
  readonly medianMs: number;
  readonly maxMs: number;
}

export interface Timed<T> extends Spread {
  readonly last: T;
}

/** Does the work `warmUps` times untimed, so that it is compiled, then `runs` times by the clock. */
export async function timed<T>(work: () => T | Promise<T>, { warmUps, runs }: { warmUps: number; runs: number }): Promise<Timed<T>> {
  for (let k = 0; k < warmUps; k++) await work();
  const times: number[] = [];
  let last: T | undefined;
  for (let k = 0; k < runs; k++) {
    const started = performance.now();
    last = await work();
    times.push(performance.now() - started);
  }
  return { ...spreadOf(times), last: last as T };
}

export function spreadOf(times: readonly number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b);
  return { minMs: sorted[0], medianMs: sorted[Math.floor(sorted.length / 2)], maxMs: sorted[sorted.length - 1] };
}
