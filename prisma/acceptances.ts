import type { AcceptanceInput, AcceptanceOutcome, AcceptanceVerdict } from '../openapi/index.ts';
import type { Database } from './bound.ts';
import type { Prisma } from './client/generated/client.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import { NEWEST_FIRST, olderThan, placeOf } from './prints.ts';
import type { AcceptanceRecord, Acceptances } from './test-house-types.ts';

const withWhom = { version: { select: { designId: true, number: true } }, decidedBy: { select: { id: true, name: true } } } as const;
type StoredAcceptance = Prisma.AcceptanceGetPayload<{ include: typeof withWhom }>;

const plain = ({ id, teamId, verdict, input, outcome, createdAt, version, decidedBy }: StoredAcceptance): AcceptanceRecord => ({
  ...{ id, teamId, createdAt, designId: version.designId, version: version.number },
  verdict: verdict as AcceptanceVerdict,
  input: input as unknown as AcceptanceInput,
  outcome: outcome as unknown as AcceptanceOutcome,
  decidedBy: { keyId: decidedBy.id, name: decidedBy.name },
});

/** Decisions: made and read, never changed. */
export const acceptanceRepository = (prisma: Database): Acceptances => ({
  async create(teamId, { decidedById, verdict, input, outcome }) {
    const json = { input: input as unknown as Prisma.InputJsonValue, outcome: outcome as unknown as Prisma.InputJsonValue };
    const data = { teamId, versionId: input.versionId, decidedById, verdict, ...json };
    return plain(await prisma.acceptance.create({ data, include: withWhom }));
  },
  async get(teamId, id) {
    const found = await prisma.acceptance.findFirst({ where: { id, teamId }, include: withWhom });
    return found && plain(found);
  },
  async list(teamId, { designId, versionId, verdict, ...page }) {
    const limit = pageLimit(page);
    const after = readCursor(page, '-createdAt', 'time');
    const rows = await prisma.acceptance.findMany({
      where: { teamId, versionId, verdict, ...(designId && { version: { designId } }), ...olderThan(after) },
      orderBy: NEWEST_FIRST,
      take: limit + 1,
      include: withWhom,
    });
    return toPage(rows, limit, placeOf, plain);
  },
});
