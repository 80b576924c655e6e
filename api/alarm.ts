export interface Alarm {
  ring(): void;
  /** Resolves once it rings, or has rung since the last wait, or after so many milliseconds. */
  wait(ms: number): Promise<void>;
}

/** Wakes who waits for it; one who waits at a time. */
export function alarm(): Alarm {
  let rung = false;
  let wake: (() => void) | null = null;
  return {
    ring: () => {
      rung = true;
      wake?.();
    },
    wait: (ms) =>
      new Promise((resolve) => {
        const timer = setTimeout(done, ms);
        wake = done;
        if (rung) done();
        function done(): void {
          clearTimeout(timer);
          wake = null;
          rung = false;
          resolve();
        }
      }),
  };
}
