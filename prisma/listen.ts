export interface Listener {
  close(): Promise<void>;
}

/**
 * Calls handler with the payload of every NOTIFY on the channel, over a connection of its own that is made again when it is lost; what was
 * sent meanwhile is missed, so callers also re-read now and then. Resolves once listening. onError is told of every lost connection.
 */
export declare function listen(options: {
  databaseUrl: string;
  channel: string;
  handler: (payload: string) => void;
  onError?: (error: Error) => void;
}): Promise<Listener>;
