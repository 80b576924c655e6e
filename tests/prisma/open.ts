import { afterAll, beforeAll } from 'vitest';
import { openRecords, type Records } from '../../prisma/index.ts';
import { freshDatabase, type TestDatabase } from '../support/database.ts';

/** Records over a database of this file's own, opened before its tests and dropped after them. */
export function recordsOfThisFile(): { readonly records: Records; readonly databaseUrl: string } {
  let database: TestDatabase;
  let records: Records;
  beforeAll(async () => {
    database = await freshDatabase();
    records = openRecords({ databaseUrl: database.databaseUrl });
  });
  afterAll(async () => {
    await records.close();
    await database.drop();
  });
  return {
    get records() {
      return records;
    },
    get databaseUrl() {
      return database.databaseUrl;
    },
  };
}
