export interface EmbeddedServer {
  databaseUrl: string;
  /** Stops the server and resolves when it is gone. */
  stop(): Promise<void>;
}

/**
 * Starts the PostgreSQL that comes with the package, with its data under dataDir (made on the first start), listening on 127.0.0.1 only.
 * Throws with a clear sentence: dataDir in use by a running strutwright; not reachable for the server's user; no binaries for this platform.
 */
export declare function startEmbedded(options: { dataDir: string; durable?: boolean }): Promise<EmbeddedServer>;
