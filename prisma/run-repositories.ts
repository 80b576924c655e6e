import type {
  CalibrationInput,
  CalibrationResult,
  EvaluationStatus,
  Filter,
  LeafFilter,
  Quantity,
  ResolvedInput,
  Scan,
  Sort,
  SurfaceInput,
  SurfaceResult,
  TrayInput,
  TrayResult,
} from '../openapi/index.ts';
import type { NewFile, Page, PageRequest } from './records.ts';
import type {
  Claim,
  Computed,
  EvaluationRecord,
  EvaluationState,
  EvaluationSummary,
  ExportedEvaluation,
  OwnRun,
  RunError,
  SelectedEvaluation,
  StatesQuery,
  TrayRecord,
  Verdict,
} from './run-records.ts';

/** The repositories of runs. An evaluation of another team is answered like one that does not exist. */

export interface Submission {
  input: ResolvedInput;
  /** inputHash(input). */
  inputHash: string;
  engineVersion: string;
  designId: string | null;
  versionId: string | null;
  /** false: a point of an undertaking, which goes when its undertakings go. Default: asked for by itself. */
  askedFor?: boolean;
  /** false: of a result that is thinned the numbers will do. Default: it is computed again. */
  whole?: boolean;
}
export interface HistoryQuery extends PageRequest {
  /** All must hold; an evaluation without the number does not pass. */
  filters?: Filter[];
  status?: EvaluationStatus;
  verdict?: Verdict;
  designId?: string;
  versionId?: string;
  /** Members of each of these undertakings of the team. */
  undertakingIds?: readonly string[];
  /** Of the version, or of its design. */
  tag?: string;
  /** In the version's notes, or its design's name and notes. */
  words?: string;
  /** Key. */
  material?: string;
  engineVersion?: string;
  /** On numbers that only results hold; of figures they are looked up in every evaluation that all else means. */
  leaves?: readonly LeafFilter[];
  /** RFC 3339, both included. */
  createdFrom?: string;
  createdTo?: string;
  /** Default: createdAt, the newest first. Sorted by a quantity, evaluations that have no such number are left out. */
  sort?: Sort;
}

/** `scan` is there where bounds on numbers of the results were asked for: then a page may be empty and not the last. */
export type HistoryPage<T> = Page<T> & { scan?: Scan };

export interface Evaluations {
  /**
   * Finds or makes the evaluation of this input, and its computation, in one transaction. `dispatch` is the computation to put on the queue,
   * null when it is already queued, running or finished. Dispatching twice does no harm.
   */
  submit(teamId: string, submission: Submission): Promise<{ evaluation: EvaluationRecord; dispatch: string | null }>;
  get(teamId: string, id: string): Promise<EvaluationRecord | null>;
  /** How far evaluations are, and the database's time at which that was so. What is not the team's is left out. */
  states(teamId: string, query: StatesQuery): Promise<{ at: Date; states: EvaluationState[] }>;
  /**
   * The newest finished evaluations of two versions that are alike in all but the parameter set: same records, tests and engine version; null
   * when there are none.
   */
  newestAlike(teamId: string, left: string, right: string): Promise<{ left: EvaluationRecord; right: EvaluationRecord } | null>;
  /**
   * The newest evaluation of a version that is done and of the material of this key, whatever its revision; those with mechanics before those
   * without, those of the build volume of this key before others. null when there is none.
   */
  newestOf(teamId: string, wanted: { versionId: string; material: string; buildVolume: string }): Promise<EvaluationRecord | null>;
  /** null: no such evaluation. A finished one is answered as it is. `cancelComputation` is set when no other live evaluation shares it. */
  cancel(teamId: string, id: string): Promise<{ evaluation: EvaluationRecord; cancelComputation: string | null } | null>;
  /** RecordFault: cursor-unreadable, cursor-of-another-sort, limit-out-of-range, too-slow. */
  list(teamId: string, query: HistoryQuery): Promise<HistoryPage<EvaluationSummary>>;
  /** Some quantities of all evaluations that a query means and that have them, so many at most, in no order. RecordFault: too-slow. */
  figures(
    teamId: string,
    query: Omit<HistoryQuery, 'sort' | 'limit' | 'cursor'>,
    which: { quantities: readonly Quantity[]; most: number },
  ): Promise<{ id: string; engineVersion: string; figures: number[] }[]>;
  /** What was asked of those that a query means and that have a quantity; so many are looked at at most, and so many drawn. RecordFault: too-slow. */
  selected(
    teamId: string,
    query: Omit<HistoryQuery, 'sort' | 'limit' | 'cursor'>,
    which: { quantity: Quantity; most: number; drawn: number },
  ): Promise<{ finished: number; complete: boolean; rows: SelectedEvaluation[] }>;
  /** The lines of history of these, in their order. */
  summaries(teamId: string, ids: readonly string[]): Promise<EvaluationSummary[]>;
  /** The same with what each was asked for; it may take longer. */
  exported(teamId: string, query: HistoryQuery): Promise<HistoryPage<ExportedEvaluation>>;
}

/** Runs that are their computation. */
export interface OwnRuns<Input, Result> {
  /** Finds or makes the run of this input. `dispatch` is what to put on the queue, null when that has been done. */
  submit(
    teamId: string,
    submission: { input: Input; inputHash: string; engineVersion: string },
  ): Promise<{ run: OwnRun<Input, Result>; dispatch: string | null }>;
  get(teamId: string, id: string): Promise<OwnRun<Input, Result> | null>;
  /** The newest first; without results, and of a surface without its points. */
  list(teamId: string, page: PageRequest): Promise<Page<OwnRun<Input, Result>>>;
}
export interface Trays extends OwnRuns<TrayInput, TrayResult> {
  /** null: no such tray. A finished one is answered as it is; a running one stops soon. */
  cancel(teamId: string, id: string): Promise<TrayRecord | null>;
}
export type Calibrations = OwnRuns<CalibrationInput, CalibrationResult>;
export type Surfaces = OwnRuns<SurfaceInput, SurfaceResult>;

/** What came of a run. */
export interface Outcome {
  result: Computed;
  files: readonly NewFile[];
}

export interface Computations {
  /** Takes the computation to run (again); null when it is finished, cancelled, or was asked to be cancelled (it then becomes cancelled). */
  claim(id: string, workerId: string): Promise<Claim | null>;
  /** Notes stage and progress, and that the run is alive. */
  progress(id: string, at: { stage: string; progressPct: number }): Promise<{ cancelRequested: boolean }>;
  /** Notes that these runs are alive; answers those that are asked to be cancelled. */
  heartbeat(ids: string[]): Promise<string[]>;
  /** Stores result and files once and copies the numbers onto the evaluations; false when the computation was finished already. */
  finish(id: string, outcome: Outcome): Promise<boolean>;
  /**
   * A retryable failure is computed again when the same input is submitted again. `partial`: the numbers so far, kept beside the error but not
   * copied as numbers that filter and sort. False when it was finished already.
   */
  fail(id: string, failure: { error: RunError; retryable: boolean; partial?: Outcome | null }): Promise<boolean>;
  /**
   * The run has stopped because it was asked to. `queued`: someone wanted it again meanwhile, so it is to be dispatched again; null: it was
   * finished already.
   */
  cancelled(id: string): Promise<'cancelled' | 'queued' | null>;
  /** The run was given up unfinished (drain): back to queued, the attempt is not charged. */
  release(id: string): Promise<boolean>;
  /** Computations to dispatch again: queued for longer than the first, or running without a sign of life for longer than the second. */
  stale(longerThan: { queuedMs: number; silentMs: number }): Promise<string[]>;
  isCancelRequested(id: string): Promise<boolean>;
  /** Computations of the team that are queued or running. */
  outstanding(teamId: string): Promise<number>;
  /** Computations by status, over all teams. */
  counts(): Promise<Record<EvaluationStatus, number>>;
}
