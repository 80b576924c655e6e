import type { Client } from 'pg';
import { exampleEvaluation, exampleParameterSet } from '../../openapi/examples.ts';
import { ENGINE_VERSION, QUANTITIES, type Quantity, resolvedInput } from '../../openapi/index.ts';
import { columnOf } from '../../prisma/quantities.ts';
import { inputOf } from './inputs.ts';

/** What questions can be asked about. */
export interface MadeHistory {
  /** The team that most evaluations are of; the others' lie between them. */
  readonly teamId: string;
  /** Undertakings, designs and versions of that team. */
  readonly undertakings: readonly string[];
  readonly designs: readonly string[];
  readonly versions: readonly string[];
  /** Per quantity its percentiles in that team, from the least to the greatest. */
  readonly percentiles: Readonly<Record<Quantity, readonly number[]>>;
}

/** Tags of designs: every second one has the first, one in ten the second, one in a hundred the third. */
export const TAGS = { usual: 'league', some: 'night-play', rare: 'museum' } as const;

/** One in a hundred is of this material; the first half was computed by this engine. */
export const RARE_MATERIAL = 'league-trial';
export const OLD_ENGINE = '1.4.0';
/** Words of which one version in so many has the notes, and one design in the name. */
export const WORDS = { note: 'longer posts', design: 'ball 17' } as const;
const NOTED = 100;

/** Evaluations come in blocks, as nights and days do: batches in every second one, versions of designs in the others. */
const BLOCKS = 1000;

/** A uuid that begins with a time, as those of the service do. */
const uuid = (kind: string, number: string, at = `'2026-01-01'::timestamptz`) =>
  `(lpad(to_hex((extract(epoch from ${at}) * 1000)::bigint), 12, '0') || '70008' || left(md5('${kind}' || ${number}), 15))::uuid`;

/** What parts differ in: drawn, not computed. $1 rows. */
const DRAWN = `create temporary table drawn as
  select i, block, case when block % 10 < 8 then 0 else 1 + block % 2 end as team, block % 2 = 0 as in_batch, block / 40 as batch, i / 10 as version,
    '2026-01-01'::timestamptz + i * interval '20 s' as created_at,
    (array[148, 162.3, 175, 190, 222])[1 + floor(5 * random() * random())::int] + random() as size, (array[3, 9, 12, 16, 27])[1 + floor(5 * random())::int] as t,
    (array[30, 80, 200])[1 + floor(3 * random())::int] as struts, 2 + 4 * random() as strut, random() as depth, random() as fate, random() as a, random() as b, random() as c
  from (select i, (i - 1) * ${BLOCKS}::bigint / $1 as block from generate_series(1, $1::int) i) each`;

/** Numbers that hang together as those of real parts do, by rules of thumb. */
const PARTS = `create temporary table part as
  select *, 1.1e-3 * volume_mm3 * (0.99 + 0.02 * a) as mass_g, 0.8 * stiffness_n_per_mm * (1 + 0.5 * b) as initial_n_per_mm,
    least(0.92, 0.62 + 0.05 * ln(1 + stiffness_n_per_mm) + 0.03 * (c - 0.5)) as restitution, 6 * strut / sqrt(t) * (1 + b) as strain,
    greatest(1, floor(3.6e7 / (size + 5) ^ 3)) as parts_per_build, case when opening < 3.5 then 'fail' when opening < 6 then 'warn' else 'pass' end as verdict
  from (select *, 0.3 * struts * sqrt(t) * size * strut ^ 2 * (0.95 + 0.1 * a) as volume_mm3, 0.003 * strut ^ 4 * sqrt(t) * struts / size * (0.8 + 0.4 * b) as stiffness_n_per_mm,
    size * 0.8 / sqrt(10 * t + 2) - strut as opening from drawn) each`;

const whole = (value: string) => `case when fate > 0.03 then ${value} end`;
const pressed = (value: string) => `case when fate > 0.03 and depth > 0.5 then ${value} end`;
const dropped = (value: string) => `case when fate > 0.03 and depth > 0.7 then ${value} end`;
const NUMBERS: Readonly<Record<Quantity, string>> = {
  massG: whole('mass_g'),
  outsideDiameterMm: whole('size'),
  circumferenceMm: whole('pi() * size * (0.985 + 0.01 * c)'),
  stiffnessNPerMm: pressed('stiffness_n_per_mm'),
  reboundHeightMm: dropped('1800 * restitution ^ 2'),
  restitution: dropped('restitution'),
  peakForceN: dropped('6 * sqrt(stiffness_n_per_mm * mass_g) * (0.9 + 0.2 * a)'),
  totalPerPart: whole('0.12 * mass_g + 900 / parts_per_build'),
  volumeMm3: whole('volume_mm3'),
  relativeDensityPct: whole('100 * volume_mm3 / (pi() / 6 * size ^ 3)'),
  centreOfMassOffsetMm: whole('0.4 * a * b'),
  inertiaSpreadPct: whole('2 * b * c'),
  strutCount: whole('struts * t'),
  initialNPerMm: pressed('initial_n_per_mm'),
  contactTimeMs: dropped('3 * sqrt(mass_g / (1 + stiffness_n_per_mm))'),
  'stiffness.peakStrainPct': pressed('strain'),
  'rebound.peakStrainPct': dropped('strain * (1 + 0.5 * c)'),
  cyclesToFailure: dropped('(strain / 60) ^ (-1 / 0.12)'),
  partsPerBuild: whole('parts_per_build'),
  totalHours: whole('12 + 8 * floor(390 / size) + c'),
  packingDensityPct: whole('2 + 8 * volume_mm3 * parts_per_build / 3.6e7'),
  minCellOpeningMm: whole('opening'),
};
/** The usual one, another, and one of which there is little. */
const MATERIAL = `case when c < 0.7 then 'tpu-soft' when c < 0.99 then 'tpu-firm' else '${RARE_MATERIAL}' end`;
/** The service was updated once. */
const ENGINE = `case when block < ${BLOCKS} / 2 then '${OLD_ENGINE}' else '${ENGINE_VERSION}' end`;
const STATUS = `case when fate > 0.03 then 'done' when fate > 0.01 then 'failed' else 'cancelled' end`;
const COLUMNS = QUANTITIES.map(columnOf);

const RECORDS = `
  insert into app.team (id, name) select ${uuid('team', 'k')}, 'team ' || k from generate_series(0, 2) k;
  insert into app.undertaking (id, team_id, kind, name, input, status, total)
    select distinct ${uuid('batch', `(batch || '-' || team)`)}, ${uuid('team', 'team')}, 'batch', 'night ' || batch, '{}'::jsonb, 'done', 0 from part where in_batch;
  insert into app.design (id, team_id, name, notes, tags)
    select ${uuid('design', 'block')}, ${uuid('team', 'min(team)')}, 'ball ' || block, '', case when block % 200 = 1 then array['${TAGS.rare}'] else '{}' end
      || case when block % 20 = 1 then array['${TAGS.some}'] else '{}' end || case when block % 4 = 1 then array['${TAGS.usual}'] else '{}' end
    from part where not in_batch group by block;
  insert into app.version (id, design_id, number, parameter_set, notes)
    select ${uuid('version', `(block || '-' || version)`)}, ${uuid('design', 'block')}, row_number() over (partition by block order by version), '{}'::jsonb, case when version % ${NOTED} = 0 then 'with ${WORDS.note}' else '' end
    from part where not in_batch group by block, version`;

/** $1 input, $2 result without what differs. */
const COMPUTATIONS = `insert into app.computation (id, team_id, input_hash, engine_version, input, status, created_at, queued_at, finished_at, result)
  select ${uuid('computation', 'i', 'created_at')}, ${uuid('team', 'team')}, md5(i::text), ${ENGINE}, $1::jsonb, ${STATUS}, created_at, created_at, created_at,
    ${whole(`$2::jsonb || jsonb_build_object('massProperties', jsonb_build_object('massG', mass_g, 'volumeMm3', volume_mm3), 'vibration', jsonb_build_object('lowestHz', 40 * a))`)}
  from part`;

/** $1 input. */
const EVALUATIONS = `insert into app.evaluation (id, team_id, computation_id, design_id, version_id, input, material, engine_version, request_hash, status, created_at, finished_at, verdict, ${COLUMNS.join(', ')})
  select ${uuid('evaluation', 'i', 'created_at')}, ${uuid('team', 'team')}, ${uuid('computation', 'i', 'created_at')},
    case when not in_batch then ${uuid('design', 'block')} end, case when not in_batch then ${uuid('version', `(block || '-' || version)`)} end,
    jsonb_set($1::jsonb, '{parameterSet,carrier,outsideDiameterMm}', to_jsonb(size)), ${MATERIAL}, ${ENGINE}, md5(i::text), ${STATUS}, created_at, created_at, ${whole('verdict')},
    ${QUANTITIES.map((each) => NUMBERS[each]).join(', ')}
  from part`;

const MEMBERS = `insert into app.member (undertaking_id, index, evaluation_id, settled_at)
  select ${uuid('batch', `(batch || '-' || team)`)}, i, ${uuid('evaluation', 'i', 'created_at')}, created_at from part where in_batch`;

/** Fills a migrated, empty database with a history of so many evaluations of three teams, the same each time. */
export async function makeHistory(client: Client, rows: number): Promise<MadeHistory> {
  const { tests: _, ...input } = await inputOf(exampleParameterSet);
  const asked = JSON.stringify(resolvedInput.parse({ ...input, tests: { depth: 'full' } }));
  const example = exampleEvaluation.result!;
  const { engine, geometry, balance, printability, targets } = example;
  // of three kilobytes, as the results of small parts are: what a check found is told in most of them without places
  const checks = printability.checks.map(({ where: __, ...check }) => check).slice(0, 4);
  const result = { engine, geometry, balance, targets, printability: { ...printability, checks } };
  // one process draws everything in one order
  await client.query(`set max_parallel_workers_per_gather = 0; set synchronous_commit = off; select setseed(0.5)`);
  await client.query(DRAWN.replaceAll('$1', String(rows)));
  await client.query(PARTS);
  await client.query(RECORDS);
  await withoutIndexes(client, 'evaluation', async () => {
    await client.query(COMPUTATIONS, [asked, JSON.stringify(result)]);
    await client.query(EVALUATIONS, [asked]);
  });
  await client.query(`${MEMBERS}; drop table part; drop table drawn; reset max_parallel_workers_per_gather; reset synchronous_commit`);
  // what the server does by itself after a while
  await client.query('vacuum analyze app.evaluation, app.computation, app.member, app.version, app.design, app.undertaking');
  return described(client);
}

/** A large load is faster without the indexes that only queries need; they are made again as they were. */
async function withoutIndexes(client: Client, table: string, load: () => Promise<void>): Promise<void> {
  const { rows } = await client.query(
    `select i.indexdef as definition, i.indexname as name from pg_indexes i
      where i.schemaname = 'app' and i.tablename = $1 and i.indexdef not like 'CREATE UNIQUE%'`,
    [table],
  );
  for (const { name } of rows) await client.query(`drop index app."${name}"`);
  await load();
  for (const { definition } of rows) await client.query(definition);
}

async function described(client: Client): Promise<MadeHistory> {
  const ids = async (text: string): Promise<string[]> => (await client.query(text)).rows.map(({ id }) => id);
  const [teamId] = await ids(`select ${uuid('team', '0')} as id`);
  const of = `where team_id = '${teamId}'`;
  const undertakings = await ids(`select id from app.undertaking ${of} order by id`);
  const designs = await ids(`select id from app.design ${of} order by id`);
  const versions = await ids(`select v.id from app.version v join app.design d on d.id = v.design_id ${of} order by v.id limit 500`);
  const percents = Array.from({ length: 101 }, (_, k) => k / 100);
  const { rows } = await client.query(
    `select ${COLUMNS.map((column) => `percentile_disc($1::float8[]) within group (order by ${column}) as ${column}`).join(', ')}
      from app.evaluation ${of} and mod(extract(epoch from created_at)::bigint / 20, 20) = 0`,
    [percents],
  );
  const percentiles = Object.fromEntries(QUANTITIES.map((each) => [each, rows[0][columnOf(each)]])) as MadeHistory['percentiles'];
  return { teamId, undertakings, designs, versions, percentiles };
}
