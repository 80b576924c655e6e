import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Reference } from '../../openapi/index.ts';
import { wanted } from './brief.ts';
import type { Finished } from './comparison.ts';
import type { Desk } from './desk.ts';
import { download, downloadResult } from './downloads.ts';
import { massPicture } from './picture.ts';
import { fixed, wrap } from './text.ts';

/** Writes the result and the files of each version, and a picture of their masses; says what there is. */
export async function filed(
  { client }: Desk,
  versions: readonly Finished[],
  { out, reference }: { out: string; reference: Reference },
): Promise<string[]> {
  const lines: string[] = [];
  for (const { version, evaluationId } of versions) {
    const folder = join(out, `version-${version.number}`);
    const written = [await downloadResult(client, evaluationId, folder), ...(await download(client, evaluationId, folder))];
    const listed = written.map(({ name, size }) => `${name} (${fixed(size / 1024, 0)} KiB)`);
    lines.push(...wrap(listed.join(', '), `    version-${version.number}: `));
  }
  const [{ min = 0, max = 0 }] = wanted(reference, 'massG');
  await writeFile(join(out, 'comparison.svg'), massPicture(versions, { min, max }));
  return [
    `  in ${out}`,
    ...lines,
    '    comparison.svg: the mass of each version, as it was predicted, and the band that is wanted',
    ...wrap('Each graph.json has the size and the SHA-256 that the service lists, each result.json the shape of the contract.', '  '),
  ];
}
