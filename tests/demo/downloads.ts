import { createHash } from 'node:crypto';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { result as resultSchema, type StrutwrightClient } from '../../openapi/index.ts';
import { answered } from './answer.ts';

export interface Download {
  name: string;
  /** Bytes. */
  size: number;
}

/**
 * Writes every file of an evaluation into `folder`, which is made. Throws when one is not of the size and the SHA-256 that the service lists.
 */
export async function download(client: StrutwrightClient, evaluationId: string, folder: string): Promise<Download[]> {
  await mkdir(folder, { recursive: true });
  const path = { id: evaluationId };
  const { items } = answered(await client.GET('/v1/evaluations/{id}/files', { params: { path } }));
  const written: Download[] = [];
  for (const { name, size, sha256 } of items) {
    const file = await client.GET('/v1/evaluations/{id}/files/{name}', { params: { path: { ...path, name } }, parseAs: 'arrayBuffer' });
    const content = Buffer.from(answered(file) as ArrayBuffer);
    const found = createHash('sha256').update(content).digest('hex');
    if (found !== sha256 || content.length !== size)
      throw new Error(`${name} arrived damaged: ${content.length} bytes, sha256 ${found}; listed: ${size} bytes, sha256 ${sha256}`);
    written.push(await write(folder, name, content));
  }
  return written;
}

/** Writes an evaluation's result into `folder` as result.json. Throws when it has not the shape that the contract gives it. */
export async function downloadResult(client: StrutwrightClient, evaluationId: string, folder: string): Promise<Download> {
  await mkdir(folder, { recursive: true });
  const { result } = answered(await client.GET('/v1/evaluations/{id}', { params: { path: { id: evaluationId } } }));
  return write(folder, 'result.json', Buffer.from(`${JSON.stringify(resultSchema.parse(result), null, 2)}\n`));
}

async function write(folder: string, name: string, content: Buffer): Promise<Download> {
  await writeFile(join(folder, name), content);
  return { name, size: content.length };
}
