/** Does the work every so often, never twice at once; a failure is told and the next turn tries again. close() waits for the turn under way. */
export function repeat(work: () => Promise<unknown>, everyMs: number, onError: (error: Error) => void) {
  let turn = Promise.resolve();
  let busy = false;
  const timer = setInterval(() => {
    if (busy) return;
    busy = true;
    turn = work()
      .then(() => undefined, onError)
      .finally(() => {
        busy = false;
      });
  }, everyMs);
  return {
    close: async () => {
      clearInterval(timer);
      await turn;
    },
  };
}
