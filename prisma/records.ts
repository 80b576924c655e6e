import type { BuildVolumeBody, MaterialBody, ParameterSet, ReferenceBody } from '../openapi/index.ts';

/** Plain records: what the repositories take and give. Nothing here knows how they are stored. */

export interface PageRequest {
  /** 1 to 500. */
  limit: number;
  /** `nextCursor` of the page before; null or absent for the first page. */
  cursor?: string | null;
}
export interface TaggedPageRequest extends PageRequest {
  /** Only what has this tag. */
  tag?: string;
}
export interface DesignQuery extends TaggedPageRequest {
  /** In its name or notes, or in the notes of a version. */
  words?: string;
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
  tags: string[];
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
  tags: string[];
  basedOnId: string | null;
  createdAt: Date;
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
