import { Readable } from 'node:stream';
import { promisify } from 'node:util';
import { createGunzip, gunzip } from 'node:zlib';
import type { StoredFile } from '../prisma/index.ts';
import { digestField, digestOf, requestedRange } from './range.ts';
import { Refusal } from './refusal.ts';

type RequestHeaders = Readonly<Record<string, string | string[] | undefined>>;
export interface FileAnswer {
  status: 200 | 206;
  body: Buffer | Readable;
  headers: Record<string, string>;
}

/**
 * A stored file as it is asked for: whole (compressed where that is accepted), or one range of its plain bytes. Digests (RFC 9530) are of
 * what is sent, and of the file in the same coding. Refuses 416.
 */
export async function fileAnswer(file: StoredFile, headers: RequestHeaders): Promise<FileAnswer> {
  const etag = `"${file.sha256}"`;
  const always = { etag, vary: 'accept-encoding', 'accept-ranges': 'bytes' };
  const digest = digestField(Buffer.from(file.sha256, 'hex'));
  const asked = requestedRange({ range: one(headers.range), ifRange: one(headers['if-range']) }, { size: file.size, etag });
  if (asked.kind === 'unsatisfiable') {
    const detail = `The file has ${file.size} bytes; the range lies behind them`;
    throw new Refusal('range-not-satisfiable', { detail, headers: { 'content-range': `bytes */${file.size}` } });
  }
  if (asked.kind === 'part') {
    const { first, last } = asked;
    const body = (await promisify(gunzip)(file.gzip)).subarray(first, last + 1);
    const range = { 'content-range': `bytes ${first}-${last}/${file.size}`, 'content-length': String(body.length) };
    return { status: 206, body, headers: { ...always, ...range, 'content-digest': digestOf(body), 'repr-digest': digest } };
  }
  if (!takesGzip(headers['accept-encoding'])) {
    const length = { 'content-length': String(file.size), 'content-digest': digest, 'repr-digest': digest };
    return { status: 200, body: Readable.from([file.gzip]).pipe(createGunzip()), headers: { ...always, ...length } };
  }
  const packed = digestOf(file.gzip);
  const coding = { 'content-encoding': 'gzip', 'content-length': String(file.gzip.length) };
  return { status: 200, body: file.gzip, headers: { ...always, ...coding, 'content-digest': packed, 'repr-digest': packed } };
}

const one = (header: string | string[] | undefined) => (Array.isArray(header) ? header.join(', ') : header);

const takesGzip = (header: string | string[] | undefined) =>
  /(^|,)\s*(gzip|\*)\s*(;\s*q=(?!0(\.0*)?\s*(,|$))|,|$)/i.test(String(header ?? ''));
