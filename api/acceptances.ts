import type { Acceptance, AcceptanceSummary, FieldError, Reference } from '../openapi/index.ts';
import type { AcceptanceRecord, Records } from '../prisma/index.ts';
import { MOST_EVIDENCE } from './evidence.ts';
import type { Handlers } from './handlers.ts';
import { judge, judgeable, meant } from './judge.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'createAcceptance' | 'listAcceptances' | 'getAcceptance';

export interface AcceptanceOptions {
  records: Pick<Records, 'acceptances' | 'versions' | 'measurements'>;
  reference: {
    find(teamId: string, key: string, revision?: number): Promise<Reference | null>;
    keys(teamId: string): Promise<string[]>;
  };
}

const summary = ({ id, designId, version, verdict, input, decidedBy, createdAt }: AcceptanceRecord): AcceptanceSummary => ({
  ...{ id, designId, version, verdict, decidedBy },
  ...{ versionId: input.versionId, reference: input.reference, referenceRevision: input.referenceRevision },
  createdAt: createdAt.toISOString(),
});
const shown = (record: AcceptanceRecord): Acceptance => ({ ...summary(record), ...record.input, ...record.outcome });

export function acceptanceHandlers({ records, reference }: AcceptanceOptions): Handlers<Operation> {
  const { acceptances, versions, measurements } = records;

  /** The reference that is meant; notes what is wrong with it. */
  const referenceOf = async (teamId: string, key: string, revision?: number): Promise<Reference | FieldError> => {
    const kept = await reference.find(teamId, key, revision);
    if (kept) return kept;
    if (revision !== undefined && (await reference.find(teamId, key)))
      return { pointer: '/referenceRevision', value: revision, detail: `is ${revision}, which ${key} does not have` };
    const keys = (await reference.keys(teamId)).slice(0, 30).join(', ');
    return { pointer: '/reference', value: key, detail: `is ${JSON.stringify(key)}, which is not known; allowed: ${keys}` };
  };

  return {
    createAcceptance: async ({ body, caller: { teamId, keyId } }) => {
      const refuse = (errors: FieldError[]) => new Refusal('invalid-body', { errors });
      const version = await versions.get(teamId, body.versionId);
      const detail = 'is not known; allowed: the id of a version of one of the team’s designs';
      if (!version) throw refuse([{ pointer: '/versionId', value: body.versionId, detail }]);
      const wanted = await referenceOf(teamId, body.reference, body.referenceRevision);
      if ('pointer' in wanted) throw refuse([wanted]);
      if (judgeable(wanted).length === 0 && body.durability === null) {
        const none = `is ${JSON.stringify(body.reference)}, which has no band for anything that is measured; required: one, or durability`;
        throw refuse([{ pointer: '/reference', value: body.reference, detail: none }]);
      }
      const input = { ...body, referenceRevision: wanted.revision };
      const evidence = meant(await measurements.evidence(teamId, { versionId: version.id }, MOST_EVIDENCE), input);
      const { verdict, ...outcome } = judge(input, wanted, evidence);
      const read = evidence.map(({ id, print, measuredAt, values }) => ({
        ...{ measurementId: id, serial: print.serial },
        ...{ measuredAt: measuredAt.toISOString(), quantities: values.quantities },
      }));
      const made = await acceptances.create(teamId, { decidedById: keyId, verdict, input, outcome: { ...outcome, evidence: read } });
      return { body: shown(made), location: `/v1/acceptances/${made.id}` };
    },
    listAcceptances: async ({ query, caller }) => {
      const { items, nextCursor } = await acceptances.list(caller.teamId, query);
      return { body: { items: items.map(summary), nextCursor } };
    },
    getAcceptance: async ({ params, caller }) => ({ body: shown(found(await acceptances.get(caller.teamId, params.id), 'acceptance')) }),
  };
}
