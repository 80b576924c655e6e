import type { Prisma, PrismaClient } from './client/generated/client.ts';
import type { Sql } from './transaction.ts';

/** The client, or the transaction that it is in already. */
export type Database = Prisma.TransactionClient & Partial<Pick<PrismaClient, '$transaction'>>;

/** Runs work in one transaction: the one that is open already, else one of its own. */
export const within = <T>(database: Database, work: (tx: Prisma.TransactionClient) => Promise<T>): Promise<T> =>
  database.$transaction ? database.$transaction(work) : work(database);

/** Statements of our own inside an open transaction of the client; rows alone are answered. */
export const sqlWithin = (tx: Prisma.TransactionClient): Sql =>
  ({ query: async (text: string, values: unknown[] = []) => ({ rows: await tx.$queryRawUnsafe(text, ...values) }) }) as unknown as Sql;
