import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';

export interface Listener {
  close(): Promise<void>;
}
export interface ListenOptions {
  databaseUrl: string;
  channel: string;
  handler: (payload: string) => void;
  /** Told of every lost connection and every failed attempt to make it again. */
  onError?: (error: Error) => void;
}

const AGAIN_MS = 500;

/**
 * Calls handler with the payload of every NOTIFY on the channel, over a connection of its own that is made again when it is lost; what was
 * sent meanwhile is missed, so callers also re-read now and then. Resolves once listening, rejects when the first connection fails.
 */
export async function listen(options: ListenOptions): Promise<Listener> {
  const closed = new AbortController();
  let client = await connect(options, reconnect);

  function reconnect(error: Error): void {
    if (closed.signal.aborted) return;
    options.onError?.(error);
    delay(AGAIN_MS, null, { signal: closed.signal, ref: false })
      .then(() => connect(options, reconnect))
      .then((made) => (closed.signal.aborted ? made.end() : void (client = made)))
      .catch(reconnect);
  }

  return {
    async close() {
      closed.abort();
      await client.end().catch(() => {});
    },
  };
}

async function connect({ databaseUrl, channel, handler }: ListenOptions, onLost: (error: Error) => void): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: databaseUrl, keepAlive: true });
  client.on('notification', (message) => handler(message.payload ?? ''));
  client.on('error', () => {});
  await client.connect();
  try {
    await client.query(`listen ${client.escapeIdentifier(channel)}`);
  } catch (error) {
    await client.end().catch(() => {});
    throw error;
  }
  client.once('end', () => onLost(new Error(`The connection that listens on ${channel} was lost`)));
  return client;
}
