import { setTimeout as pause } from 'node:timers/promises';
import type pg from 'pg';
import type { MadeHistory } from './history-rows.ts';
import { checksumOf, type Row } from './row.ts';
import { BEARER, served } from './served.ts';

const FORMATS = ['csv', 'ndjson', 'parquet'] as const;
/** Parts of the team's evaluations in per cent: of a million, 20 000 and ten times as many. */
const FEW = 3;
const MANY = 26;
/** What a collector may leave for later, which is as much after a while as it is after hours. */
const SLACK_MB = 60;
const LOOK_MS = 100;

interface Export {
  readonly ms: number;
  readonly megabytes: number;
  readonly peakMb: number;
}

/** Exports of few and of many evaluations, each from an API process of its own: what it holds at its highest. */
export async function exportRow(databaseUrl: string, client: pg.Client, { teamId, percentiles }: MadeHistory): Promise<Row> {
  const measured = (format: string, per: number) =>
    served(databaseUrl, async ({ base }) => {
      await client.query('update app.api_key set team_id = $1', [teamId]);
      return exported(base, `format=${format}&sort=massG&massG.lte=${percentiles.massG[per]}`);
    });
  const pairs: { format: string; few: Export; many: Export }[] = [];
  for (const format of FORMATS) pairs.push({ format, few: await measured(format, FEW), many: await measured(format, MANY) });
  const times = pairs.map(({ many }) => many.ms).sort((a, b) => a - b);
  const shown = ({ format, few, many }: (typeof pairs)[number]) =>
    `${format} at most ${many.peakMb.toFixed(0)} MB beside ${few.peakMb.toFixed(0)} MB (files of ${many.megabytes.toFixed(0)} and ${few.megabytes.toFixed(0)} MB)`;
  return {
    ...{ minMs: times[0], medianMs: times[1], maxMs: times[2] },
    name: 'export of a quarter of the history',
    input: `${MANY} % of a team's evaluations over HTTP, beside ${FEW} %; time of the larger one; resident memory of the API process`,
    checksum: checksumOf(pairs.map(({ many }) => (many.megabytes > 0 ? 1 : 0))),
    beside: pairs.map(shown).join(', '),
    asked: `no heavier (within ${SLACK_MB} MB)`,
    met: pairs.every(({ few, many }) => many.peakMb <= few.peakMb + SLACK_MB),
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
