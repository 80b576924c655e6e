/** Table of the CRC of 32 bits that PNG and zip share (ISO/IEC 15948, annex D). */
const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

/** The CRC of what came before (0 of nothing) and these bytes. */
export function crc32(bytes: Uint8Array, before = 0): number {
  let crc = before ^ 0xffffffff;
  for (let k = 0; k < bytes.length; k++) crc = TABLE[(crc ^ bytes[k]) & 255] ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}
