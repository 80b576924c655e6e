import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
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

/** The SQL that would bring the database to the schema, as the official tool writes it; null when nothing differs. */
export async function difference(databaseUrl: string, schema: string): Promise<string | null> {
  const pool = new pg.Pool({ connectionString: databaseUrl });
  const factory = bindMigrationAwareSqlAdapterFactory(adapterFactory(pool));
  const engine = await Engine.new({ datamodels: [[SCHEMA.pathname, schema]] }, () => {}, factory);
  const files = [{ path: SCHEMA.pathname, content: schema }];
  try {
    const { exitCode, stdout } = await engine.diff({
      from: { tag: 'schemaDatasource', files, configDir: dirname(SCHEMA.pathname) },
      to: { tag: 'schemaDatamodel', files },
      script: true,
      exitCode: true,
      filters: { externalTables: [], externalEnums: [] },
    });
    return exitCode === 0 ? null : stdout;
  } finally {
    engine.free();
    await pool.end();
  }
}
