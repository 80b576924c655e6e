import { CHANNELS } from '../openapi/index.ts';
import { listen } from '../prisma/index.ts';

export type Hearer = (computationId: string) => void;

/** Tells of changed computations, over one connection for all who listen. What is told while that is lost is missed. */
export interface Changes {
  /** Calls `hear` with the id of every computation that changes, until the function it gives is called. */
  subscribe(hear: Hearer): () => void;
}

/** Opens the connection; the caller closes it. Rejects when the database is away. */
export async function openChanges(options: {
  databaseUrl: string;
  onError(error: Error): void;
}): Promise<Changes & { close(): Promise<void> }> {
  const hearers = new Set<Hearer>();
  const handler = (computationId: string) => {
    for (const hear of hearers) hear(computationId);
  };
  const listener = await listen({ ...options, channel: CHANNELS.changed, handler });
  return {
    subscribe: (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    close: () => listener.close(),
  };
}
