import { REFERENCES, type Reference, type ReferenceBody } from '../openapi/index.ts';
import type { Revisions } from '../prisma/index.ts';
import { revisioned } from './revisioned.ts';

/** Built-in and own references. */
export const referenceRecords = (own: Revisions<ReferenceBody>) =>
  revisioned<ReferenceBody, Reference>({ what: 'reference', url: '/v1/references', builtIn: REFERENCES, own });

export const referenceHandlers = ({ create, list, get, archive }: ReturnType<typeof referenceRecords>) => ({
  createReference: create,
  listReferences: list,
  getReference: get,
  archiveReference: archive,
});
