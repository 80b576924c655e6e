import type {
  BuildVolumeBody,
  EvaluationStatus,
  Filter,
  MaterialBody,
  ParameterSet,
  ReferenceBody,
  ResolvedInput,
  Result,
  Sort,
} from '../openapi/index.ts';
import type {
  ApiKey,
  Claim,
  Design,
  EvaluationRecord,
  EvaluationSummary,
  NewApiKey,
  NewFile,
  Page,
  PageRequest,
  Revision,
  RunError,
  StoredFile,
  StoredFileInfo,
  Team,
  Verdict,
  Version,
} from './records.ts';

/** The repositories. A record of another team is answered like one that does not exist: null (or false). */

export interface Teams {
  create(team: { name: string }): Promise<Team>;
  get(id: string): Promise<Team | null>;
}

export interface Keys {
  create(teamId: string, key: NewApiKey): Promise<ApiKey>;
  /** Keys not revoked that begin with this prefix; the caller compares the hash in constant time. */
  withPrefix(prefix: string): Promise<ApiKey[]>;
  list(teamId: string): Promise<ApiKey[]>;
  /** The key as revoked; null when the team has no such key. Revoking twice keeps the first time. */
  revoke(teamId: string, id: string): Promise<ApiKey | null>;
  /** Notes the use of a key, at most once a minute. */
  touch(id: string): Promise<void>;
  /**
   * The first key, safe when several processes start at once: makes the key, and the first team where there is none, unless any key exists
   * (`any-key`) or a key with the same hash exists (`same-key`). Answers whether the key was made.
   */
  bootstrap(first: { teamName: string; key: NewApiKey; unless: 'any-key' | 'same-key' }): Promise<boolean>;
}

export interface Revisions<Body extends { key: string }> {
  /** Stores the next revision of body.key (1 for a new key); safe under concurrency. */
  create(teamId: string, body: Body): Promise<Revision<Body>>;
  /** Without a revision: the newest, null when the key is archived. With one: that revision, archived or not. */
  get(teamId: string, key: string, revision?: number): Promise<Revision<Body> | null>;
  /** The newest revision of every key that is not archived, by key. */
  list(teamId: string, page: PageRequest): Promise<Page<Revision<Body>>>;
  /** Every revision of a key, the newest first. */
  history(teamId: string, key: string, page: PageRequest): Promise<Page<Revision<Body>>>;
  /** Archives the key (posting it again opens it); false when there is no such key. */
  archive(teamId: string, key: string): Promise<boolean>;
}

export interface Designs {
  create(teamId: string, design: { name: string; notes: string }): Promise<Design>;
  get(teamId: string, id: string): Promise<Design | null>;
  /** The newest first; archived ones left out. */
  list(teamId: string, page: PageRequest): Promise<Page<Design>>;
  update(teamId: string, id: string, change: { name?: string; notes?: string }): Promise<Design | null>;
  /** null when there is no such design; archiving twice keeps the first time. */
  archive(teamId: string, id: string): Promise<Design | null>;
}

export interface Versions {
  /** null: no such design. RecordFault: design-archived; based-on-unknown (basedOnId is not a version of this design). */
  create(
    teamId: string,
    designId: string,
    version: { parameterSet: ParameterSet; notes: string; basedOnId: string | null },
  ): Promise<Version | null>;
  get(teamId: string, id: string): Promise<Version | null>;
  byNumber(teamId: string, designId: string, number: number): Promise<Version | null>;
  /** The newest first; null: no such design. */
  list(teamId: string, designId: string, page: PageRequest): Promise<Page<Version> | null>;
}

export interface Submission {
  input: ResolvedInput;
  /** inputHash(input). */
  inputHash: string;
  engineVersion: string;
  designId: string | null;
  versionId: string | null;
}
export interface HistoryQuery extends PageRequest {
  /** All must hold; an evaluation without the number does not pass. */
  filters?: Filter[];
  status?: EvaluationStatus;
  verdict?: Verdict;
  designId?: string;
  versionId?: string;
  /** Default: createdAt, the newest first. Sorted by a quantity, evaluations that have no such number are left out. */
  sort?: Sort;
}

export interface Evaluations {
  /**
   * Finds or makes the evaluation of this input, and its computation, in one transaction. `dispatch` is the computation to put on the queue,
   * null when it is already queued, running or finished. Dispatching twice does no harm.
   */
  submit(teamId: string, submission: Submission): Promise<{ evaluation: EvaluationRecord; dispatch: string | null }>;
  get(teamId: string, id: string): Promise<EvaluationRecord | null>;
  /** null: no such evaluation. A finished one is answered as it is. `cancelComputation` is set when no other live evaluation shares it. */
  cancel(teamId: string, id: string): Promise<{ evaluation: EvaluationRecord; cancelComputation: string | null } | null>;
  /** RecordFault: cursor-unreadable, cursor-of-another-sort, limit-out-of-range. */
  list(teamId: string, query: HistoryQuery): Promise<Page<EvaluationSummary>>;
}

export interface Computations {
  /** Takes the computation to run (again); null when it is finished, cancelled, or was asked to be cancelled (it then becomes cancelled). */
  claim(id: string, workerId: string): Promise<Claim | null>;
  /** Notes stage and progress, and that the run is alive. */
  progress(id: string, at: { stage: string; progressPct: number }): Promise<{ cancelRequested: boolean }>;
  /** Notes that these runs are alive; answers those that are asked to be cancelled. */
  heartbeat(ids: string[]): Promise<string[]>;
  /** Stores result and files once and copies the numbers onto the evaluations; false when the computation was finished already. */
  finish(id: string, outcome: { result: Result; files: NewFile[] }): Promise<boolean>;
  /** A retryable failure is computed again when the same input is submitted again. False when it was finished already. */
  fail(id: string, failure: { error: RunError; retryable: boolean }): Promise<boolean>;
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

export interface Files {
  /** null: no such evaluation. By name; empty until it is done. */
  list(teamId: string, evaluationId: string): Promise<StoredFileInfo[] | null>;
  get(teamId: string, evaluationId: string, name: string): Promise<StoredFile | null>;
}

export interface Records {
  teams: Teams;
  keys: Keys;
  materials: Revisions<MaterialBody>;
  buildVolumes: Revisions<BuildVolumeBody>;
  references: Revisions<ReferenceBody>;
  designs: Designs;
  versions: Versions;
  evaluations: Evaluations;
  computations: Computations;
  files: Files;
  /** Resolves when the database answers and its migrations are applied, rejects otherwise. */
  ready(): Promise<void>;
  close(): Promise<void>;
}
