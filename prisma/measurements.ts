import type { MeasuredValues, TestKind, TestMeasurementBody } from '../openapi/index.ts';
import { type Database, sqlWithin, within } from './bound.ts';
import type { Prisma } from './client/generated/client.ts';
import { RecordFault } from './faults.ts';
import { contentHash } from './input-hash.ts';
import { pageLimit, readCursor, toPage } from './page.ts';
import { NEWEST_FIRST, olderThan, placeOf, plainPrint, printsOf, withVersion } from './prints.ts';
import type { MeasurementFilter, MeasurementRecord, Measurements, NewMeasurement } from './test-house-types.ts';
import { uuidv7 } from './uuid.ts';

const withPrint = { print: { include: withVersion } } as const;
type StoredMeasurement = Prisma.MeasurementGetPayload<{ include: typeof withPrint }>;

const plain = ({ printId: _, contentHash: __, print, ...stored }: StoredMeasurement): MeasurementRecord => ({
  ...stored,
  print: plainPrint(print),
  kind: stored.kind as TestKind,
  given: stored.given as unknown as TestMeasurementBody,
  values: stored.values as unknown as MeasuredValues,
});

/** Rows that go to the database in one statement. */
const AT_ONCE = 2000;

/** $1 rows, $2 team. */
const INSERT = `insert into app.measurement (id, team_id, print_id, kind, measured_at, given, "values", content_hash)
  select r.id, $2::uuid, r.print_id, r.kind, r.measured_at, r.given, r.values, r.content_hash
  from jsonb_to_recordset($1::jsonb) as r(id uuid, print_id uuid, kind text, measured_at timestamptz, given jsonb, "values" jsonb, content_hash text)
  on conflict (print_id, content_hash) where archived_at is null do nothing returning id`;

/** $1 team, $2 hashes. */
const KNOWN = `select print_id, content_hash from app.measurement
  where team_id = $1::uuid and archived_at is null and content_hash = any($2::text[])`;

/** The same numbers of the same test at the same moment and place are the same measurement, whatever else is said of them. */
function hashOf({ given, values }: NewMeasurement): string {
  const axes = given.kind === 'diameter' ? given.axes.map(({ axis }) => axis) : [];
  const drops = given.kind === 'rebound' ? given.drops.map(({ orientation }) => orientation) : [];
  return contentHash({ kind: given.kind, measuredAt: new Date(given.measuredAt).toISOString(), values, axes, drops });
}
const keyOf = (printId: string, hash: string) => `${printId} ${hash}`;

const measurementsOf = ({ printId, kind, ...ofPrint }: MeasurementFilter): Prisma.MeasurementWhereInput => ({
  printId,
  kind,
  print: printsOf(ofPrint),
});

export function measurementRepository(prisma: Database): Measurements {
  const get: Measurements['get'] = async (teamId, id) => {
    const found = await prisma.measurement.findFirst({ where: { id, teamId }, include: withPrint });
    return found && plain(found);
  };

  return {
    async known(teamId, measurements) {
      const keys = measurements.map((each) => ({ hash: hashOf(each), printId: each.printId }));
      const rows = await within(prisma, async (tx) => (await sqlWithin(tx).query(KNOWN, [teamId, keys.map(({ hash }) => hash)])).rows);
      const seen = new Set(rows.map((row) => keyOf(row.print_id, row.content_hash)));
      return keys.flatMap(({ printId, hash }, k) => {
        const key = keyOf(printId, hash);
        if (seen.has(key)) return [k];
        seen.add(key);
        return [];
      });
    },

    create: (teamId, measurements) =>
      within(prisma, async (tx) => {
        const rows = measurements.map((each) => ({
          ...{ id: uuidv7(), print_id: each.printId, kind: each.given.kind, measured_at: each.given.measuredAt },
          ...{ given: each.given, values: each.values, content_hash: hashOf(each) },
        }));
        for (let from = 0; from < rows.length; from += AT_ONCE) {
          const some = rows.slice(from, from + AT_ONCE);
          const made = await sqlWithin(tx).query(INSERT, [JSON.stringify(some), teamId]);
          if (made.rows.length < some.length) {
            const detail = 'is kept already: the same numbers of the same part at the same time; allowed: each measurement once';
            throw new RecordFault('measurement-known', { field: '', value: undefined }, detail);
          }
        }
        return rows.map(({ id }) => id);
      }),

    get,

    async list(teamId, { archived, ...page }) {
      const limit = pageLimit(page);
      const after = readCursor(page, '-createdAt', 'time');
      const rows = await prisma.measurement.findMany({
        where: { teamId, ...measurementsOf(page), archivedAt: archived ? { not: null } : null, ...olderThan(after) },
        orderBy: NEWEST_FIRST,
        take: limit + 1,
        include: withPrint,
      });
      return toPage(rows, limit, placeOf, plain);
    },

    async evidence(teamId, { printId, kind, ...ofPrint }, limit) {
      const where = { teamId, printId, kind, archivedAt: null, print: { ...printsOf(ofPrint), archivedAt: null } };
      const orderBy = [{ measuredAt: 'asc' as const }, { id: 'asc' as const }];
      return (await prisma.measurement.findMany({ where, orderBy, take: limit, include: withPrint })).map(plain);
    },

    async archive(teamId, id) {
      await prisma.measurement.updateMany({ where: { id, teamId, archivedAt: null }, data: { archivedAt: new Date() } });
      return get(teamId, id);
    },
  };
}
