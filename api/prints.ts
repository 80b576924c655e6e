import { randomUUID } from 'node:crypto';
import type { FieldError, Print, PrintBody } from '../openapi/index.ts';
import type { PrintRecord, Prints } from '../prisma/index.ts';
import type { Handlers } from './handlers.ts';
import { found, Refusal } from './refusal.ts';

type Operation = 'createPrints' | 'listPrints' | 'getPrint' | 'changePrint' | 'archivePrint';

/** One kind of record, as its keys and revisions are found. */
interface Kind {
  find(teamId: string, key: string, revision?: number): Promise<{ key: string; revision: number } | null>;
  keys(teamId: string): Promise<string[]>;
}
export interface PrintOptions {
  prints: Prints;
  material: Kind;
  buildVolume: Kind;
}

export const shownPrint = ({ teamId: _, outsideDiameterMm: __, createdAt, archivedAt, ...print }: PrintRecord): Print => ({
  ...print,
  createdAt: createdAt.toISOString(),
  archivedAt: archivedAt?.toISOString() ?? null,
});

export function printHandlers({ prints, material, buildVolume }: PrintOptions): Handlers<Operation> {
  return {
    createPrints: async ({ body, caller: { teamId } }) => {
      const { copies, versionId, lot, build, finishing, printedOn, notes } = body;
      const errors: FieldError[] = [];
      const used = {
        material: await usedRecord(material, 'material', { teamId, body, errors }),
        buildVolume: await usedRecord(buildVolume, 'buildVolume', { teamId, body, errors }),
      };
      if (errors.length > 0) throw new Refusal('invalid-body', { errors });
      const marked = copies.map(({ serial, ...copy }) => ({ ...copy, serial: serial ?? newSerial() }));
      const made = await prints.create(teamId, { versionId, lot, build, finishing, printedOn, notes, ...used, copies: marked });
      if (made) return { body: { items: made.map(shownPrint) }, location: `/v1/prints/${made[0].id}` };
      const detail = 'is not known; allowed: the id of a version of one of the team’s designs';
      throw new Refusal('invalid-body', { errors: [{ pointer: '/versionId', value: versionId, detail }] });
    },
    listPrints: async ({ query: { archived, ...query }, caller }) => {
      const { items, nextCursor } = await prints.list(caller.teamId, { ...query, archived: archived === 'true' });
      return { body: { items: items.map(shownPrint), nextCursor } };
    },
    getPrint: async ({ params, caller }) => ({ body: shownPrint(found(await prints.get(caller.teamId, params.id), 'print')) }),
    changePrint: async ({ params, body, caller }) => ({
      body: shownPrint(found(await prints.update(caller.teamId, params.id, body), 'print')),
    }),
    archivePrint: async ({ params, caller }) => ({ body: shownPrint(found(await prints.archive(caller.teamId, params.id), 'print')) }),
  };
}

/** Ten hexadecimal digits by chance: two prints of a team that share them are refused by the records, and one posts again. */
const newSerial = () => `p-${randomUUID().replaceAll('-', '').slice(-10)}`;

/** The record that was printed with: its key, and the revision that was named or is the newest now. Notes an error where there is none. */
async function usedRecord(
  kind: Kind,
  field: 'material' | 'buildVolume',
  { teamId, body, errors }: { teamId: string; body: PrintBody; errors: FieldError[] },
): Promise<{ key: string; revision: number }> {
  const [key, revision] = [body[field], body[`${field}Revision`]];
  const newest = await kind.find(teamId, key);
  const record = revision === undefined ? newest : await kind.find(teamId, key, revision);
  if (record) return { key, revision: record.revision };
  if (newest || revision !== undefined) {
    const allowed = newest ? `allowed: 1 to ${newest.revision}` : 'allowed: a revision of a key that is known';
    errors.push({ pointer: `/${field}Revision`, value: revision, detail: `is ${revision}, which ${key} does not have; ${allowed}` });
  } else {
    const allowed = (await kind.keys(teamId)).slice(0, 30).join(', ');
    errors.push({ pointer: `/${field}`, value: key, detail: `is ${JSON.stringify(key)}, which is not known; allowed: ${allowed}` });
  }
  return { key, revision: 0 };
}
