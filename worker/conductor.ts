import { CHANNELS } from '../openapi/jobs.ts';
import { listen } from '../prisma/index.ts';

/** Something long that is made of evaluations, taken a step further whenever one of them has ended. */
export interface Undertaking {
  /** Those that there may be something to do about. */
  due(): Promise<string[]>;
  /**
   * One step, from the rows alone, so that a restart in the middle loses and repeats nothing; does nothing where another process is at it.
   * Answers true where there is more to do at once.
   */
  advance(id: string): Promise<unknown>;
}

export interface ConductorOptions {
  databaseUrl: string;
  undertakings: readonly Undertaking[];
  onError(error: Error): void;
}

/** Ends of evaluations come in bursts: a round of steps waits for as long. */
const GATHER_MS = 50;
/** What comes by the clock, and ends whose notice was lost, are seen after this long. */
const LOOK_MS = 2_000;

/** Takes every undertaking further, in each worker process; one failing does not hold up the others. close() waits for the step under way. */
export async function openConductor({ databaseUrl, undertakings, onError }: ConductorOptions): Promise<{ close(): Promise<void> }> {
  let closed = false;
  let wanted = false;
  let round: Promise<void> | null = null;

  const step = async (undertaking: Undertaking, id: string) => {
    const more = !closed && (await undertaking.advance(id).catch(onError));
    if (more === true) wanted = true;
  };
  const goRound = async () => {
    for (const undertaking of undertakings) {
      const ids = await undertaking.due().catch((error: Error) => {
        onError(error);
        return [];
      });
      for (const id of ids) await step(undertaking, id);
    }
  };
  /** Asks for a round: at once when none is under way, else after it. */
  const wake = () => {
    wanted = true;
    if (closed || round) return;
    round = new Promise<void>((resolve) => setTimeout(resolve, GATHER_MS))
      .then(() => {
        wanted = false;
        return closed ? undefined : goRound();
      })
      .finally(() => {
        round = null;
        if (wanted) wake();
      });
  };

  const listener = await listen({ databaseUrl, channel: CHANNELS.changed, handler: wake, onError });
  const timer = setInterval(wake, LOOK_MS);
  wake();
  return {
    close: async () => {
      closed = true;
      clearInterval(timer);
      await listener.close();
      await round;
    },
  };
}
