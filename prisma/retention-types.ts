import type { Freed, RetentionRules } from '../openapi/index.ts';

/** What one piece of work let go. */
export interface Retired {
  teamId: string;
  madeFiles: { count: number; bytes: number };
  pointResults: { count: number; bytes: number };
}

export interface Retention {
  /** Without rules of the team everything is kept, since ever. */
  get(teamId: string): Promise<{ rules: RetentionRules; changedAt: Date | null }>;
  set(teamId: string, rules: RetentionRules): Promise<void>;
  /** How much rules would let go now; null where there is none. RecordFault: too-slow. */
  wouldFree(teamId: string, rules: RetentionRules): Promise<{ madeFiles: Freed | null; pointResults: Freed | null }>;
  /**
   * Lets go at most so many files and results of one team whose turn it is; null: it is nobody's turn. A team's turn comes at once while there is
   * more, else every hour, and when its rules change.
   */
  apply(most: number): Promise<Retired | null>;
}
