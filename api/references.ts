import {
  DEFAULT_BAND,
  estimatesOf,
  isSame,
  measuredStatus,
  measuredTargets,
  REFERENCES,
  type Reference,
  type ReferenceBody,
} from '../openapi/index.ts';
import type { Revisions } from '../prisma/index.ts';
import { revisioned } from './revisioned.ts';

/** Built-in and own references. Own ones are shown with estimates of an inflated original, which are computed anew and never stored. */
export const referenceRecords = (own: Revisions<ReferenceBody>) =>
  revisioned<ReferenceBody, Reference>({
    what: 'reference',
    url: '/v1/references',
    builtIn: REFERENCES,
    own,
    derived: (body) => ({ estimates: estimatesOf(body) }),
  });

export const referenceHandlers = ({ create, list, get, archive }: ReturnType<typeof referenceRecords>) => ({
  createReference: ({ body, ...request }: Parameters<typeof create>[0]) => create({ ...request, body: withMeasured(body) }),
  listReferences: list,
  getReference: get,
  archiveReference: archive,
});

/** The reference as it is stored: with the targets that its readings make, and said to be measured; without estimates. */
function withMeasured({ estimates: _, ...body }: ReferenceBody): ReferenceBody {
  const { measurements = [], band = DEFAULT_BAND, targets, status } = body;
  if (measurements.length === 0) return body;
  const measured = measuredTargets(measurements, band);
  const counts = measuredStatus(measurements, band);
  // What was read of a reference and is posted again says both already.
  const said = status.endsWith(counts) ? status : [status, counts].filter(Boolean).join('; ');
  const given = targets.filter((each) => !measured.some((own) => isSame(own, each)));
  return { ...body, band, targets: [...given, ...measured], status: said };
}
