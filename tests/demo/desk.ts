import type { StrutwrightClient } from '../../openapi/index.ts';

/** What every part of the story works with. */
export interface Desk {
  client: StrutwrightClient;
  say(...lines: string[]): void;
  /** Aborted when the demo is to stop. */
  signal: AbortSignal;
}
