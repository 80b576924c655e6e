import { zlibSync } from 'fflate';
import { crc32 } from './crc.ts';

/** Of packing: higher ones take twice the time for a tenth less. */
const LEVEL = 4;

const SIGNATURE = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);

/** A PNG of 8 bits for each of red, green and blue (ISO/IEC 15948), rows from the top. */
export const png = (rgb: Uint8Array, widthPx: number, heightPx: number): Uint8Array =>
  joined([SIGNATURE, header(widthPx, heightPx), chunk('IDAT', packed(rgb, widthPx, heightPx)), chunk('IEND')]);

export interface Animation {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Of each picture but the last, which stays DWELL times as long. */
  readonly delayMs: number;
  /** Shown by programs that know no animation; no picture of it. */
  readonly still: Uint8Array;
  readonly poll?: () => void;
}
const DWELL = 8;

/** An animated PNG that begins anew for ever (PNG third edition, section 11.3.3: chunks acTL, fcTL, fdAT), each picture whole. */
export function animatedPng(frames: readonly Uint8Array[], { widthPx, heightPx, delayMs, still, poll }: Animation): Uint8Array {
  let sequence = 0;
  const chunks = frames.flatMap((rgb, k) => {
    poll?.();
    const ms = k === frames.length - 1 ? DWELL * delayMs : delayMs;
    // Place 0, 0; over what was there, all of it (0, 0).
    const control = joined([numbers32(sequence++, widthPx, heightPx, 0, 0), Uint8Array.of(ms >> 8, ms & 255, 1000 >> 8, 1000 & 255, 0, 0)]);
    return [chunk('fcTL', control), chunk('fdAT', joined([numbers32(sequence++), packed(rgb, widthPx, heightPx)]))];
  });
  const image = chunk('IDAT', packed(still, widthPx, heightPx));
  return joined([SIGNATURE, header(widthPx, heightPx), chunk('acTL', numbers32(frames.length, 0)), image, ...chunks, chunk('IEND')]);
}

const header = (widthPx: number, heightPx: number): Uint8Array =>
  chunk('IHDR', joined([numbers32(widthPx, heightPx), Uint8Array.of(8, 2, 0, 0, 0)]));
const packed = (rgb: Uint8Array, widthPx: number, heightPx: number): Uint8Array =>
  zlibSync(filtered(rgb, widthPx, heightPx), { level: LEVEL });

/** Big endian. */
function numbers32(...values: readonly number[]): Uint8Array {
  const bytes = new Uint8Array(4 * values.length);
  const view = new DataView(bytes.buffer);
  values.forEach((value, k) => view.setUint32(4 * k, value));
  return bytes;
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

/** Each row as its difference from the one above (filter 2), which packs smooth shades well. */
function filtered(rgb: Uint8Array, widthPx: number, heightPx: number): Uint8Array {
  const row = 3 * widthPx;
  const rows = new Uint8Array((row + 1) * heightPx);
  for (let j = 0; j < heightPx; j++) {
    rows[j * (row + 1)] = 2;
    for (let i = 0; i < row; i++) rows[j * (row + 1) + 1 + i] = rgb[j * row + i] - (j > 0 ? rgb[(j - 1) * row + i] : 0);
  }
  return rows;
}

function chunk(type: string, data: Uint8Array = new Uint8Array(0)): Uint8Array {
  const named = joined([Uint8Array.from(type, (letter) => letter.charCodeAt(0)), data]);
  return joined([numbers32(data.length), named, numbers32(crc32(named))]);
}
