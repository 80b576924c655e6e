import type { FieldError, Quantity, Result } from '../openapi/index.ts';
import type { Page, PageRequest } from './records.ts';
import type { EvaluationRecord } from './run-records.ts';
import type { Submission } from './run-repositories.ts';

/** Things long that are made of evaluations: rows that a worker takes a step further whenever a member of them has ended. */

export type UndertakingKind = 'batch' | 'search' | 'reevaluation';
export type UndertakingStatus = 'queued' | 'running' | 'paused' | 'done' | 'cancelled' | 'failed';

export interface NewUndertaking {
  kind: UndertakingKind;
  name: string;
  input: unknown;
  /** Points it is to have; of a search the most. */
  total: number;
  startAt?: Date | null;
  finishBy?: Date | null;
  repeatAt?: Date | null;
  /** Of a re-evaluation: the evaluations to compute again, as many as `total`. */
  earlier?: readonly string[];
}

export interface UndertakingRecord {
  id: string;
  teamId: string;
  kind: UndertakingKind;
  name: string;
  input: unknown;
  status: UndertakingStatus;
  total: number;
  /** Points that have become members so far, and how the members that have ended did so. */
  begun: number;
  done: number;
  failed: number;
  cancelled: number;
  startAt: Date | null;
  finishBy: Date | null;
  repeatAt: Date | null;
  /** Members by the version of the engine that computes them. */
  engineVersions: Record<string, number>;
  createdAt: Date;
  startedAt: Date | null;
  resumedAt: Date | null;
  finishedAt: Date | null;
  /** What came of it, where that is more than its members. */
  outcome: unknown;
}

/** How its members are getting on. */
export interface Progress {
  /** Members that a worker is at, and those that have ended, by how. */
  counts: { running: number; done: number; failed: number; cancelled: number };
  /** Members that end in a second, over the last two hundred of the present stretch; null before there is one. */
  perSecond: number | null;
}

/** A point that could not become an evaluation. */
export interface Refused {
  index: number;
  errors: FieldError[];
}

/** What to read of the finished members: what stands at these paths, and quantities that each must have; so many members at most. */
export interface OutcomesQuery {
  paths: readonly string[];
  quantities: readonly Quantity[];
  most: number;
}

/** Finished members that have every quantity: how many there are, and those read, in no order. */
export interface Outcomes {
  finished: number;
  rows: { settings: unknown[]; values: number[]; engineVersion: string }[];
}

/** A member that has ended, in the order of its index. */
export interface EndedMember {
  index: number;
  evaluationId: string | null;
  status: 'done' | 'failed' | 'cancelled';
  result: Result | null;
}

/** An undertaking that nobody else steps while this is held; everything it does is stored together or not at all. */
export interface HeldUndertaking {
  readonly record: UndertakingRecord;
  /** The database's clock. */
  readonly now: Date;
  /** Members that have not ended. */
  readonly open: number;
  /** The next point becomes a member: the evaluation of this input, found or made. */
  submit(submission: Submission): Promise<void>;
  /** The next point becomes a member that has failed. */
  refuse(errors: readonly FieldError[]): Promise<void>;
  /** Of a re-evaluation: the evaluations that its points compute again, so many from an index on. */
  earlier(from: number, most: number): Promise<Pick<EvaluationRecord, 'input' | 'designId' | 'versionId'>[]>;
  /** Members that have ended, of those from an index on, with their results. */
  ended(from?: number): Promise<EndedMember[]>;
  /** Evaluations of open members that nobody else waits for: no other undertaking, and nobody who asked for them by themselves. */
  openEvaluations(): Promise<string[]>;
  /** Waits no longer for the members that are open: they count as cancelled here. */
  letGo(): Promise<void>;
  /** Changes the row itself. */
  update(change: { status?: UndertakingStatus; outcome?: unknown; repeatAt?: Date | null }): Promise<void>;
  /** The same undertaking once more, from now on; further repetitions are its own. */
  again(change: { input: unknown; finishBy: Date | null; repeatAt: Date | null }): Promise<void>;
}

export interface Undertakings {
  create(teamId: string, undertaking: NewUndertaking): Promise<UndertakingRecord>;
  get(teamId: string, kind: UndertakingKind, id: string): Promise<UndertakingRecord | null>;
  /** The newest first. */
  list(teamId: string, kind: UndertakingKind, page: PageRequest): Promise<Page<UndertakingRecord>>;
  /** Of one that there is. */
  progress(id: string): Promise<Progress>;
  /** RecordFault: too-slow. */
  outcomes(teamId: string, id: string, query: OutcomesQuery): Promise<Outcomes>;
  /** The first ten. */
  refused(id: string): Promise<Refused[]>;
  /** What is undefined stays. Changes nothing that has ended. null: no such undertaking. */
  change(
    teamId: string,
    kind: UndertakingKind,
    id: string,
    change: { status?: 'running' | 'paused' | 'cancelled'; total?: number; input?: unknown },
  ): Promise<UndertakingRecord | null>;
  /** Those of a kind that there may be something to do about. */
  due(kind: UndertakingKind): Promise<string[]>;
  /**
   * Counts what has ended since and takes one step in one transaction; answers the computations to put on the queue. Does nothing where another
   * process is at it.
   */
  advance(id: string, step: (held: HeldUndertaking) => Promise<void>): Promise<string[]>;
}
