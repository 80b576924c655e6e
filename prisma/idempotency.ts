import { createHash } from 'node:crypto';
import { Prisma, type PrismaClient } from './client/generated/client.ts';
import type { Idempotency, IdempotentRequest } from './idempotency-types.ts';
import { contentHash } from './input-hash.ts';
import type { Records } from './repositories.ts';

/** How long an answer is kept. */
const KEPT_MS = 24 * 3600 * 1000;
/** Expired answers that go when another is stored: more than one comes, so that they never pile up. */
const CLEANED_AT_ONCE = 20;

/** The lock that requests of one team, route and key share; two others share one by chance once in 2^64. */
function lockOf({ teamId, route, key }: IdempotentRequest): bigint {
  const digest = createHash('sha256').update(JSON.stringify([teamId, route, key]));
  return digest.digest().readBigInt64BE();
}

/**
 * Answers of POSTs by key. The first request holds a lock of its transaction while it works, and what it makes and its answer are stored by
 * that same transaction: either both are there or neither, also when the process is killed. `boundTo` gives the repositories inside it.
 */
export function idempotencyRepository(prisma: PrismaClient, boundTo: (tx: Prisma.TransactionClient) => Records): Idempotency {
  return {
    removeExpired: async () => {
      await prisma.idempotentAnswer.deleteMany({ where: { createdAt: { lt: oldest() } } });
    },
    once: (asked, { work, refused }) =>
      prisma.$transaction(async (tx) => {
        const [{ held }] = await tx.$queryRaw<{ held: boolean }[]>`select pg_try_advisory_xact_lock(${lockOf(asked)}::bigint) as held`;
        if (!held) return { kind: 'running' };
        const requestHash = contentHash(asked.request);
        const kept = await find(tx, asked);
        if (kept) return kept.requestHash === requestHash ? { kind: 'again', answer: kept.answer } : { kind: 'another-request' };
        const answer = await outcome(tx, () => work(boundTo(tx)), refused);
        await keep(tx, asked, { requestHash, answer });
        return { kind: 'first', answer };
      }),
  };
}

const oldest = () => new Date(Date.now() - KEPT_MS);

const find = (tx: Prisma.TransactionClient, { teamId, route, key }: IdempotentRequest) =>
  tx.idempotentAnswer.findFirst({ where: { teamId, route, key, createdAt: { gt: oldest() } } });

/** The answer of the work, or of its refusal, which leaves nothing else behind. */
async function outcome(
  tx: Prisma.TransactionClient,
  work: () => Promise<string>,
  refused: (error: unknown) => string | null,
): Promise<string> {
  await tx.$executeRaw`savepoint work`;
  try {
    return await work();
  } catch (error) {
    const answer = refused(error);
    if (answer === null) throw error;
    await tx.$executeRaw`rollback to savepoint work`;
    return answer;
  }
}

async function keep(
  tx: Prisma.TransactionClient,
  { teamId, route, key }: IdempotentRequest,
  stored: { requestHash: string; answer: string },
): Promise<void> {
  await tx.$executeRaw(Prisma.sql`delete from app.idempotent_answer where id in (
    select id from app.idempotent_answer where created_at < ${oldest()} order by created_at limit ${CLEANED_AT_ONCE} for update skip locked)`);
  const content = { ...stored, createdAt: new Date() };
  const where = { teamId_route_key: { teamId, route, key } };
  await tx.idempotentAnswer.upsert({ where, create: { teamId, route, key, ...content }, update: content });
}
