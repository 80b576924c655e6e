import type { Records } from './repositories.ts';

/** A request under an Idempotency-Key. */
export interface IdempotentRequest {
  teamId: string;
  /** What the key belongs to besides the team. */
  route: string;
  key: string;
  /** All that tells one request from another, compared by content. */
  request: unknown;
}

export type IdempotentOutcome =
  /** The work was done now, or was done before: its answer. */
  | { kind: 'first' | 'again'; answer: string }
  /** The first request under this key is still at work. */
  | { kind: 'running' }
  /** The key was used for another request. */
  | { kind: 'another-request' };

export interface Idempotency {
  /** Removes answers that are no longer kept. */
  removeExpired(): Promise<void>;
  /**
   * Does work once within a day for each team, route and key, and keeps its answer in the transaction of what it does: `work` is given the
   * repositories of that transaction. `refused` gives the answer to keep when work throws; null: nothing is kept and the error is thrown.
   */
  once(
    asked: IdempotentRequest,
    how: { work(records: Records): Promise<string>; refused(error: unknown): string | null },
  ): Promise<IdempotentOutcome>;
}
