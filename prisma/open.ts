import type { Records } from './repositories.ts';

/** Opens the records of a migrated database. The caller closes them. onError is told of connections lost while idle. */
export declare function openRecords(options: { databaseUrl: string; poolSize?: number; onError?: (error: Error) => void }): Records;
