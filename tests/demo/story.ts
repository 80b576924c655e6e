import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { openClient, type Reference } from '../../openapi/index.ts';
import { advice, type Place, placesTable } from './advice.ts';
import { answered } from './answer.ts';
import { type Bounced, bounce, bounceInWords, bounceTable } from './bounce.ts';
import { type Brief, briefFrom, CONDITIONS, ORIGINAL } from './brief.ts';
import { checksInWords, comparisonTable, type Finished, notJudged } from './comparison.ts';
import type { Desk } from './desk.ts';
import { type Developed, develop } from './development.ts';
import { download, downloadResult } from './downloads.ts';
import { evaluate } from './follow.ts';
import { conclusion, introduction } from './narration.ts';
import { massPicture } from './picture.ts';
import { openProgress } from './progress.ts';
import { patientFetch } from './request.ts';
import { fixed, heading, wrap } from './text.ts';

export interface Telling {
  url: string;
  key: string;
  /** Folder for the files; it is there. */
  out: string;
  say(...lines: string[]): void;
  /** Aborted when the demo is to stop. */
  signal: AbortSignal;
}

/** The whole demo against the service at `url`, over public HTTP only. */
export async function tellStory({ url, key, out, say, signal }: Telling): Promise<void> {
  const client = openClient({ baseUrl: url, key, fetch: patientFetch(signal) });
  const desk: Desk = { client, say, signal };
  const path = { key: ORIGINAL };
  const original = answered(await client.GET('/v1/references/{key}', { params: { path } })) as Reference;
  const brief = briefFrom(original);
  say(...introduction(original, brief));
  const developed = await develop(desk, brief);
  const { versions } = developed;
  say(...heading('The versions side by side'), ...comparisonTable(versions));
  say(...(await history(desk, developed, brief)));
  const bounced = await bounce(desk, versions.at(-1)!, brief);
  say(...heading(`How version ${versions.length} bounces`), ...bounceTable(bounced), '', ...bounceInWords(bounced));
  const judged = { ...versions.at(-1)!, result: bounced.result };
  say(...heading('Printability, in words'), ...checksInWords([...versions.slice(0, -1), judged]), ...notJudged(judged));
  const places = await elsewhere(desk, versions.at(-1)!, brief);
  say(...heading(`Where to print version ${versions.length}`), ...placesTable(places));
  say(...heading('Cautions'), ...bounced.result.warnings.flatMap(({ message }) => wrap(message, '  - ')));
  say(...heading('What to try next'), ...advice(versions, places, brief));
  say(...heading('Files'), ...(await files(desk, developed, { out, brief, bounced })));
  say(...conclusion(versions, bounced));
}

/** The versions that the service finds when asked for the mass, over all evaluations of the design. */
async function history({ client }: Desk, { designId, versions }: Developed, { massG: { min, max } }: Brief): Promise<string[]> {
  const query = { designId, 'massG.gte': min, 'massG.lte': max, sort: 'massG' as const };
  const { items } = answered(await client.GET('/v1/evaluations', { params: { query } }));
  const found = items.map(({ version, quantities }) => `version ${version} (${fixed(quantities.massG ?? Number.NaN, 1)} g)`);
  const asked = `GET /v1/evaluations?designId=...&massG.gte=${min}&massG.lte=${max}&sort=massG`;
  return ['', `Asked of the history: ${asked}`, `  ${found.length} of ${versions.length} evaluations: ${found.join(', ') || 'none'}`];
}

/** The same version in every built-in build volume; the one it was made for is not computed again. */
async function elsewhere({ client, signal }: Desk, { version }: Finished, { reference }: Brief): Promise<Place[]> {
  const { items } = answered(await client.GET('/v1/build-volumes'));
  const places: Place[] = [];
  for (const { key, sizeMm } of items.filter(({ builtIn }) => builtIn)) {
    const progress = openProgress(process.stderr, `version ${version.number} in ${key}`);
    const { evaluation } = await evaluate(
      client,
      { ...CONDITIONS, versionId: version.id, buildVolume: key, reference },
      { progress, signal },
    );
    places.push({ buildVolume: key, sizeMm, result: evaluation.result });
  }
  return places;
}

interface Filing {
  out: string;
  brief: Brief;
  bounced: Bounced;
}

async function files({ client }: Desk, { versions }: Developed, { out, brief, bounced }: Filing): Promise<string[]> {
  const lines: string[] = [];
  for (const { version, evaluationId } of versions) {
    const folder = join(out, `version-${version.number}`);
    const written = [await downloadResult(client, evaluationId, folder), ...(await download(client, evaluationId, folder))];
    const listed = written.map(({ name, size }) => `${name} (${fixed(size / 1024, 0)} KiB)`);
    lines.push(...wrap(listed.join(', '), `    version-${version.number}: `));
  }
  const { name } = await downloadResult(client, bounced.evaluationId, join(out, 'bounce'));
  await writeFile(join(out, 'comparison.svg'), massPicture(versions, brief.massG));
  return [
    `  in ${out}`,
    ...lines,
    `    bounce: ${name}, the full evaluation of the last version`,
    '    comparison.svg: the mass of each version and the band that is wanted',
    ...wrap('Each graph.json has the size and the SHA-256 that the service lists, each result.json the shape of the contract.', '  '),
  ];
}
