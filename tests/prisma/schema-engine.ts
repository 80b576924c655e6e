import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils';
import type { SchemaEngine } from '@prisma/schema-engine-wasm';
import pg from 'pg';

const SCHEMA = new URL('../../prisma/schema.prisma', import.meta.url);
const folder = dirname(createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg'));

/** Node has it, the compiler's library for Node does not name it. */
declare const WebAssembly: {
  instantiate(bytes: Uint8Array, imports: Record<string, object>): Promise<{ instance: { exports: Record<string, unknown> } }>;
};

export const schemaText = readFileSync(SCHEMA, 'utf8');

/** The package imports its .wasm as a module, which Node cannot do yet, so it is instantiated here; its glue bears one instance only. */
async function loadEngine(): Promise<typeof SchemaEngine> {
  const glue = await import('@prisma/schema-engine-wasm/schema_engine_bg');
  const bytes = readFileSync(join(folder, 'schema_engine_bg.wasm'));
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': glue });
  glue.__wbg_set_wasm(instance.exports);
  (instance.exports.__wbindgen_start as () => void)();
  return glue.SchemaEngine;
}
const Engine = await loadEngine();

/**
 * The adapter knows no column of the catalogue's one-byte "char" (18), which the engine asks for: it is passed through as an array of them
 * (1002), of which the catalogue's tables that the engine reads have none, and named a character afterwards.
 */
function adapterFactory(pool: pg.Pool): PrismaPg {
  const query = pool.query.bind(pool) as (config: pg.QueryConfig) => Promise<pg.QueryResult>;
  const renamed = async (config: pg.QueryConfig) => {
    const answer = await query(config);
    for (const field of answer.fields) if (field.dataTypeID === 18) field.dataTypeID = 1002;
    return answer;
  };
  const factory = new PrismaPg(Object.assign(pool, { query: renamed }) as pg.Pool);
  const connect = factory.connect.bind(factory);
  factory.connect = async () => {
    const adapter = await connect();
    const queryRaw = adapter.queryRaw.bind(adapter);
    adapter.queryRaw = async (asked) => {
      const answer = await queryRaw(asked);
      const { CharacterArray, Character } = ColumnTypeEnum;
      return { ...answer, columnTypes: answer.columnTypes.map((type) => (type === CharacterArray ? Character : type)) };
    };
    return adapter;
  };
  return factory;
}

/** Opens the engine on a database and closes both. */
async function withEngine<T>(databaseUrl: string, schema: string, ask: (engine: SchemaEngine) => Promise<T>): Promise<T> {
  const pool = new pg.Pool({ connectionString: databaseUrl });
  const factory = bindMigrationAwareSqlAdapterFactory(adapterFactory(pool));
  const engine = await Engine.new({ datamodels: [[SCHEMA.pathname, schema]] }, () => {}, factory);
  try {
    return await ask(engine);
  } finally {
    engine.free();
    await pool.end();
  }
}

const filters = { externalTables: [], externalEnums: [] };

/** The SQL that would bring the database to the schema, as the official tool writes it; null when nothing differs. */
export async function difference(databaseUrl: string, schema: string): Promise<string | null> {
  const files = [{ path: SCHEMA.pathname, content: schema }];
  const from = { tag: 'schemaDatasource', files, configDir: dirname(SCHEMA.pathname) } as const;
  const to = { tag: 'schemaDatamodel', files } as const;
  const { exitCode, stdout } = await withEngine(databaseUrl, schema, (engine) =>
    engine.diff({ from, to, script: true, exitCode: true, filters }),
  );
  return exitCode === 0 ? null : stdout;
}

/** What the official tool says of the notes that the database keeps of its migrations. */
export async function historyDiagnosis(databaseUrl: string, migrations: { name: string; script: string }[]) {
  const migrationsList = {
    baseDir: fileURLToPath(new URL('migrations/', SCHEMA)),
    lockfile: { path: 'migration_lock.toml', content: readFileSync(new URL('migrations/migration_lock.toml', SCHEMA), 'utf8') },
    shadowDbInitScript: '',
    migrationDirectories: migrations.map(({ name, script }) => ({
      path: name,
      migrationFile: { path: 'migration.sql', content: { tag: 'ok' as const, value: script } },
    })),
  };
  return withEngine(databaseUrl, schemaText, (engine) =>
    engine.diagnoseMigrationHistory({ migrationsList, optInToShadowDatabase: false, filters }),
  );
}
