import type {
  BuildVolumeBody,
  Evaluation,
  EvaluationStatus,
  MaterialBody,
  ParameterSet,
  Quantity,
  ReferenceBody,
  ResolvedInput,
  Result,
} from '../openapi/index.ts';

/** Plain records: what the repositories take and give. Nothing here knows how they are stored. */

export interface PageRequest {
  /** 1 to 500. */
  limit: number;
  /** `nextCursor` of the page before; null or absent for the first page. */
  cursor?: string | null;
}
export interface Page<T> {
  items: T[];
  nextCursor: string | null;
}

export interface Team {
  id: string;
  name: string;
  createdAt: Date;
}

export type KeyRole = 'admin' | 'member';
export interface NewApiKey {
  name: string;
  role: KeyRole;
  /** The readable beginning of the key, by which it is looked up; not a secret, need not be unique. */
  prefix: string;
  /** sha256 of the whole key, hexadecimal. */
  hash: string;
}
export interface ApiKey extends NewApiKey {
  id: string;
  teamId: string;
  createdAt: Date;
  lastUsedAt: Date | null;
  revokedAt: Date | null;
}

/** One revision of a material, build volume or reference. An archived key is left out of lists; its revisions stay readable. */
export interface Revision<Body> {
  id: string;
  teamId: string;
  key: string;
  revision: number;
  body: Body;
  createdAt: Date;
  archivedAt: Date | null;
}
export type MaterialRevision = Revision<MaterialBody>;
export type BuildVolumeRevision = Revision<BuildVolumeBody>;
export type ReferenceRevision = Revision<ReferenceBody>;

export interface Design {
  id: string;
  teamId: string;
  name: string;
  notes: string;
  createdAt: Date;
  archivedAt: Date | null;
}
export interface Version {
  id: string;
  designId: string;
  /** 1, 2, 3 ... within the design, without gaps. */
  number: number;
  parameterSet: ParameterSet;
  notes: string;
  basedOnId: string | null;
  createdAt: Date;
}

export type RunError = NonNullable<Evaluation['error']>;
export type Verdict = Result['printability']['verdict'];

/** One line of history: everything that filters and sorts, nothing large. */
export interface EvaluationSummary {
  id: string;
  teamId: string;
  computationId: string;
  designId: string | null;
  versionId: string | null;
  /** Number of the version within its design. */
  version: number | null;
  status: EvaluationStatus;
  stage: string | null;
  progressPct: number;
  createdAt: Date;
  finishedAt: Date | null;
  verdict: Verdict | null;
  /** null until done, and where the result holds no such number. */
  quantities: Record<Quantity, number | null>;
}
export interface EvaluationRecord extends EvaluationSummary {
  startedAt: Date | null;
  inputHash: string;
  engineVersion: string;
  input: ResolvedInput;
  /** Only when status is done. */
  result: Result | null;
  /** Only when status is failed. */
  error: RunError | null;
}

export interface StoredFileInfo {
  name: string;
  mediaType: string;
  /** Of the plain content, hexadecimal. */
  sha256: string;
  /** Bytes of the plain content. */
  size: number;
  createdAt: Date;
}
export interface StoredFile extends StoredFileInfo {
  /** The content, compressed. */
  gzip: Buffer;
}
export interface NewFile {
  name: string;
  mediaType: string;
  /** Plain; it is compressed when stored. */
  content: Uint8Array | string;
}

/** What the worker is given to compute. */
export interface Claim {
  computationId: string;
  teamId: string;
  input: ResolvedInput;
  inputHash: string;
  engineVersion: string;
  /** 1 on the first claim. */
  attempts: number;
}
