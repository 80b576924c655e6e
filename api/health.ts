import type { Records } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import type { Dispatch } from './queue.ts';
import { Refusal } from './refusal.ts';

/** Longest wait for the database before it counts as away. */
const ANSWER_MS = 2_000;

export interface HealthOptions {
  records: Pick<Records, 'ready'>;
  dispatch: Pick<Dispatch, 'ready'>;
  /** true from the moment the process begins to shut down. */
  isClosing(): boolean;
}

export const healthHandlers = ({ records, dispatch, isClosing }: HealthOptions): Handlers<'livez' | 'readyz'> => ({
  livez: async () => ({ body: { status: 'ok' } }),
  readyz: async () => {
    const refuse = (detail: string) => new Refusal('unavailable', { detail });
    if (isClosing()) throw refuse('The process is shutting down');
    const [database, queue] = await Promise.all([inTime(records.ready()), dispatch.ready()]);
    if (!database) throw refuse('The database does not answer');
    if (!queue) throw refuse('The queue does not answer');
    return { body: { status: 'ok' } };
  },
});

/** Whether a promise resolves within ANSWER_MS. */
async function inTime(answer: Promise<void>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<boolean>((resolve) => {
    timer = setTimeout(() => resolve(false), ANSWER_MS);
  });
  try {
    const answered = answer.then(
      () => true,
      () => false,
    );
    return await Promise.race([answered, late]);
  } finally {
    clearTimeout(timer);
  }
}
