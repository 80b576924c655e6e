import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import type {
  BuildVolumeBody,
  CalibrationInput,
  CalibrationResult,
  MaterialBody,
  ReferenceBody,
  SurfaceInput,
  SurfaceResult,
  TrayInput,
  TrayResult,
} from '../openapi/index.ts';
import { acceptanceRepository } from './acceptances.ts';
import { type Database, sqlWithin } from './bound.ts';
import { catalogueRepository } from './catalogue.ts';
import { type Prisma, PrismaClient } from './client/generated/client.ts';
import { computationRepository } from './computations.ts';
import { designRepository } from './designs.ts';
import { evaluationRepository } from './evaluations.ts';
import { fileRepository } from './files.ts';
import { idempotencyRepository } from './idempotency.ts';
import { keyRepository } from './keys.ts';
import { measurementRepository } from './measurements.ts';
import { missingMigrations, readMigrations } from './migrate.ts';
import { ownRunRepository, submitOwn } from './own-runs.ts';
import { printRepository } from './prints.ts';
import { reevaluationRepository } from './reevaluations.ts';
import type { Records } from './repositories.ts';
import { retentionRepository } from './retention.ts';
import type { Evaluations } from './run-repositories.ts';
import { submit as submitWithin } from './submit.ts';
import { teamRepository } from './teams.ts';
import { trayRepository } from './trays.ts';
import { createUndertaking, undertakingRepository } from './undertakings.ts';
import { versionRepository } from './versions.ts';

export interface RecordsOptions {
  databaseUrl: string;
  /** Connections at most; default 10. */
  poolSize?: number;
  /** Longest wait for a connection, be it for a free one or for the server to answer; default 10 s. */
  connectWithinMs?: number;
  /** Longest time that one page of the history may take; default 2 s. */
  historyWithinMs?: number;
  /** Told of connections lost while idle. */
  onError?: (error: Error) => void;
}

/** Longest wait for a connection, and longest transaction: a burst of requests queues rather than fails. */
const LONGEST_MS = 10_000;

/**
 * Opens the records of a migrated database; connections are made when they are needed. The caller closes them. Plain records go through
 * Prisma's client, what the queue does many times a second through statements of our own, both over one pool.
 */
export function openRecords(options: RecordsOptions): Records {
  const { databaseUrl, poolSize = 10, connectWithinMs = LONGEST_MS, historyWithinMs, onError = () => {} } = options;
  const pool = new pg.Pool({ connectionString: databaseUrl, max: poolSize, connectionTimeoutMillis: connectWithinMs });
  pool.on('error', onError);
  const transactionOptions = { maxWait: connectWithinMs, timeout: LONGEST_MS };
  const prisma = new PrismaClient({ adapter: new PrismaPg(pool), transactionOptions });
  const migrations = readMigrations();

  const evaluations = evaluationRepository(pool, { historyWithinMs });
  const trays = trayRepository(pool);
  const calibrations = ownRunRepository<CalibrationInput, CalibrationResult>(pool, 'calibration');
  const surfaces = ownRunRepository<SurfaceInput, SurfaceResult>(pool, 'surface');
  const undertakings = undertakingRepository(pool, { historyWithinMs });
  const boundTo = (tx: Prisma.TransactionClient): Records => {
    const submit: Evaluations['submit'] = (teamId, submission) => submitWithin(sqlWithin(tx), teamId, submission);
    return {
      ...records,
      ...plainRepositories(tx),
      evaluations: { ...evaluations, submit },
      trays: { ...trays, submit: submitOwn<TrayInput, TrayResult>(sqlWithin(tx), 'tray') },
      calibrations: { ...calibrations, submit: submitOwn<CalibrationInput, CalibrationResult>(sqlWithin(tx), 'calibration') },
      surfaces: { ...surfaces, submit: submitOwn<SurfaceInput, SurfaceResult>(sqlWithin(tx), 'surface') },
      undertakings: { ...undertakings, create: (teamId, made) => createUndertaking(sqlWithin(tx), teamId, made) },
    };
  };
  const records: Records = {
    ...plainRepositories(prisma),
    evaluations,
    trays,
    calibrations,
    surfaces,
    undertakings,
    retention: retentionRepository(pool, { historyWithinMs }),
    reevaluations: reevaluationRepository(pool, { historyWithinMs }),
    computations: computationRepository(pool),
    idempotency: idempotencyRepository(prisma, boundTo),
    async ready() {
      const names = await missingMigrations(pool, migrations);
      if (names.length > 0) throw new Error(`The database lacks migrations: ${names.join(', ')}`);
    },
    async close() {
      await prisma.$disconnect();
      await pool.end();
    },
  };
  return records;
}

const plainRepositories = (database: Database) => ({
  teams: teamRepository(database),
  keys: keyRepository(database),
  materials: catalogueRepository<MaterialBody>(database, 'material'),
  buildVolumes: catalogueRepository<BuildVolumeBody>(database, 'build-volume'),
  references: catalogueRepository<ReferenceBody>(database, 'reference'),
  designs: designRepository(database),
  versions: versionRepository(database),
  files: fileRepository(database),
  prints: printRepository(database),
  measurements: measurementRepository(database),
  acceptances: acceptanceRepository(database),
});
