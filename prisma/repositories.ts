import type {
  AcceptanceVerdict,
  BuildVolumeBody,
  FileOrder,
  LineageVersion,
  MaterialBody,
  ParameterSet,
  ReferenceBody,
} from '../openapi/index.ts';
import type { Idempotency } from './idempotency-types.ts';
import type {
  ApiKey,
  Design,
  DesignQuery,
  NewApiKey,
  Page,
  PageRequest,
  Revision,
  StoredFile,
  StoredFileInfo,
  TaggedPageRequest,
  Team,
  Version,
} from './records.ts';
import type { Reevaluations } from './reevaluation-types.ts';
import type { Retention } from './retention-types.ts';
import type { FileState } from './run-records.ts';
import type { Calibrations, Computations, Evaluations, Surfaces, Trays } from './run-repositories.ts';
import type { Acceptances, Measurements, Prints } from './test-house-types.ts';
import type { Undertakings } from './undertaking-types.ts';

/** The repositories. A record of another team is answered like one that does not exist: null (or false). */

export interface Teams {
  create(team: { name: string }): Promise<Team>;
  /** A team and its first key: both or neither. */
  createWithKey(team: { name: string }, key: NewApiKey): Promise<{ team: Team; key: ApiKey }>;
  get(id: string): Promise<Team | null>;
}

export interface Keys {
  create(teamId: string, key: NewApiKey): Promise<ApiKey>;
  /** Keys not revoked that begin with this prefix; the caller compares the hash in constant time. */
  withPrefix(prefix: string): Promise<ApiKey[]>;
  list(teamId: string): Promise<ApiKey[]>;
  /**
   * The key as revoked; null when the team has no such key. Revoking twice keeps the first time. RecordFault: last-admin-key (no other admin
   * key of the team would work), also when several are revoked at once.
   */
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
  create(teamId: string, design: { name: string; notes: string; tags?: string[] }): Promise<Design>;
  get(teamId: string, id: string): Promise<Design | null>;
  /** The newest first; archived ones left out. */
  list(teamId: string, page: DesignQuery): Promise<Page<Design>>;
  /** What is undefined stays as it is. null: no such design. */
  update(teamId: string, id: string, change: { name?: string; notes?: string; tags?: string[] }): Promise<Design | null>;
  /** null when there is no such design; archiving twice keeps the first time. */
  archive(teamId: string, id: string): Promise<Design | null>;
}

export interface Versions {
  /** null: no such design. RecordFault: design-archived; based-on-unknown (basedOnId is not a version of the team). */
  create(
    teamId: string,
    designId: string,
    version: { parameterSet: ParameterSet; notes: string; tags?: string[]; basedOnId: string | null },
  ): Promise<Version | null>;
  get(teamId: string, id: string): Promise<Version | null>;
  byNumber(teamId: string, designId: string, number: number): Promise<Version | null>;
  /** The newest first; null: no such design. */
  list(teamId: string, designId: string, page: TaggedPageRequest): Promise<Page<Version> | null>;
  /** Its parameter set cannot be changed; what is undefined stays as it is. null: no such version. */
  update(teamId: string, designId: string, number: number, change: { notes?: string; tags?: string[] }): Promise<Version | null>;
  /** The newest first, each with what it came from and what is known of it; null: no such design. */
  lineage(teamId: string, designId: string, page: PageRequest): Promise<Page<LineageRecord> | null>;
}

interface Relative {
  versionId: string;
  designId: string;
  number: number;
}
/** A version among those it came from and those that came from it, with what is known of it. */
export interface LineageRecord extends Omit<Version, 'designId' | 'notes' | 'basedOnId'> {
  /** The first line of its notes. */
  note: string;
  basedOn: (Relative & { designName: string; parameterSet: ParameterSet }) | null;
  /** The first of them, and how many there are. */
  followers: Relative[];
  followerCount: number;
  /** The newest that is done. */
  evaluation:
    | (Pick<NonNullable<LineageVersion['evaluation']>, 'evaluationId' | 'engineVersion' | 'verdict' | 'quantities'> & { finishedAt: Date })
    | null;
  prints: number;
  measurements: number;
  /** The newest. */
  decision: { acceptanceId: string; verdict: AcceptanceVerdict; createdAt: Date } | null;
}

export interface Files {
  /** null: no such evaluation. By name; empty until it is done. */
  list(teamId: string, evaluationId: string): Promise<StoredFileInfo[] | null>;
  get(teamId: string, evaluationId: string, name: string): Promise<StoredFile | null>;
  /**
   * Finds or makes the computation of a file of a finished evaluation. `dispatch` is what to put on the queue, null when that has been done. null: no
   * such evaluation. 'not-finished': it is on its way or was cancelled.
   */
  order(
    teamId: string,
    evaluationId: string,
    order: { order: FileOrder; engineVersion: string },
  ): Promise<{ state: FileState; dispatch: string | null } | 'not-finished' | null>;
  /** How far a file that was ordered under this name is, of the newest engine version; null: it was not. */
  ordered(teamId: string, evaluationId: string, name: string): Promise<FileState | null>;
  /** The same of a tray. */
  listOfTray(teamId: string, trayId: string): Promise<StoredFileInfo[] | null>;
  getOfTray(teamId: string, trayId: string, name: string): Promise<StoredFile | null>;
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
  trays: Trays;
  calibrations: Calibrations;
  surfaces: Surfaces;
  undertakings: Undertakings;
  reevaluations: Reevaluations;
  retention: Retention;
  prints: Prints;
  measurements: Measurements;
  acceptances: Acceptances;
  computations: Computations;
  files: Files;
  idempotency: Idempotency;
  /** Resolves when the database answers and its migrations are applied, rejects otherwise. */
  ready(): Promise<void>;
  close(): Promise<void>;
}
