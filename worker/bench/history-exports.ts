import { setTimeout as pause } from 'node:timers/promises';
import type pg from 'pg';
import type { MadeHistory } from './history-rows.ts';
import { checksumOf, type Row } from './row.ts';
import { BEARER, served } from './served.ts';

const FORMATS = ['csv', 'ndjson', 'parquet'] as const;
/**
 * Parts of the team's evaluations in per cent: of a million some 200 000 and 800 000. Not less: until old objects are collected for the first time
 * (after 60 000 rows or so, had each row left 4 kB) the memory of a process grows with whatever it does, and levels off then.
 */
const MANY = 26;
const ALL = 100;
/** What lies between one collection of old objects and the next differs by chance. Held for good, it would be 100 bytes of each row more. */
const SLACK_MB = 60;
const LOOK_MS = 100;

interface Export {
  readonly ms: number;
  readonly megabytes: number;
  readonly peakMb: number;
}

/** Exports of many and of all evaluations, each from an API process of its own: what it holds at its highest, which must not grow with their number. */
export async function exportRow(databaseUrl: string, client: pg.Client, { teamId, percentiles }: MadeHistory): Promise<Row> {
  const measured = (format: string, per: number) =>
    served(databaseUrl, async ({ base }) => {
      await client.query('update app.api_key set team_id = $1', [teamId]);
      return exported(base, `format=${format}&sort=massG&massG.lte=${percentiles.massG[per]}`);
    });
  const { rows } = await client.query('select count(*)::int as number from app.evaluation where team_id = $1 and mass_g <= $2', [
    teamId,
    percentiles.massG[ALL],
  ]);
  const pairs: { format: string; many: Export; all: Export }[] = [];
  for (const format of FORMATS) pairs.push({ format, many: await measured(format, MANY), all: await measured(format, ALL) });
  const times = pairs.map(({ all }) => all.ms).sort((a, b) => a - b);
  const shown = ({ format, many, all }: (typeof pairs)[number]) =>
    `${format} at most ${all.peakMb.toFixed(0)} MB beside ${many.peakMb.toFixed(0)} MB (files of ${all.megabytes.toFixed(0)} and ${many.megabytes.toFixed(0)} MB, ` +
    `${((1000 * rows[0].number) / all.ms).toFixed(0)} rows a second)`;
  return {
    ...{ minMs: times[0], medianMs: times[1], maxMs: times[2] },
    name: 'export of the whole history',
    input: `${ALL} % of a team's evaluations (${rows[0].number}) over HTTP, beside ${MANY} %; time of the larger one; resident memory of the API process`,
    checksum: checksumOf(pairs.map(({ all }) => (all.megabytes > 0 ? 1 : 0))),
    beside: pairs.map(shown).join(', '),
    asked: `no heavier (within ${SLACK_MB} MB)`,
    met: pairs.every(({ many, all }) => all.peakMb <= many.peakMb + SLACK_MB),
  };
}

async function exported(base: string, query: string): Promise<Export> {
  const started = performance.now();
  let running = true;
  let peakMb = 0;
  const watch = (async () => {
    for (; running; await pause(LOOK_MS)) peakMb = Math.max(peakMb, await residentMb(base));
  })();
  const answer = await fetch(`${base}/v1/exports/evaluations?${query}`, { headers: BEARER });
  if (!answer.ok || !answer.body) throw new Error(`the export answered ${answer.status}: ${(await answer.text()).slice(0, 300)}`);
  let bytes = 0;
  for await (const piece of answer.body) bytes += piece.length;
  const ms = performance.now() - started;
  running = false;
  await watch;
  return { ms, megabytes: bytes / 1e6, peakMb };
}

async function residentMb(base: string): Promise<number> {
  const text = await (await fetch(`${base}/metrics`)).text();
  return Number(/^process_resident_memory_bytes (\S+)/m.exec(text)?.[1] ?? Number.NaN) / 1e6;
}
