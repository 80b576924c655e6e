/** Closes what a process opened, the last opened first, each once; a failure to close one does not keep the others open. */
export interface Closers {
  add(close: () => Promise<unknown>): void;
  /** Rejects with the first failure, after all have been closed. */
  closeAll(): Promise<void>;
}

export function openClosers(): Closers {
  const closers: (() => Promise<unknown>)[] = [];
  return {
    add: (close) => void closers.push(close),
    closeAll: async () => {
      const failures: unknown[] = [];
      for (let close = closers.pop(); close; close = closers.pop()) await close().catch((error: unknown) => failures.push(error));
      if (failures.length > 0) throw failures[0];
    },
  };
}
