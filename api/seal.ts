import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto';

const CIPHER = 'aes-256-gcm';
const SALT_BYTES = 16;
const NONCE_BYTES = 12;
const TAG_BYTES = 16;

const keyFrom = (secret: string, salt: Buffer) => Buffer.from(hkdfSync('sha256', secret, salt, 'kept answer', 32));

/** Text that only who has the same secret (of many random bytes) can read again: salt, nonce, tag and AES-256-GCM, in base64url. */
export function sealed(text: string, secret: string): string {
  const [salt, nonce] = [randomBytes(SALT_BYTES), randomBytes(NONCE_BYTES)];
  const cipher = createCipheriv(CIPHER, keyFrom(secret, salt), nonce);
  const content = Buffer.concat([cipher.update(text, 'utf8'), cipher.final()]);
  return Buffer.concat([salt, nonce, cipher.getAuthTag(), content]).toString('base64url');
}

/** The text that was sealed with this secret. Throws for another secret, and for what was changed. */
export function opened(seal: string, secret: string): string {
  const bytes = Buffer.from(seal, 'base64url');
  const [salt, rest] = [bytes.subarray(0, SALT_BYTES), bytes.subarray(SALT_BYTES)];
  const decipher = createDecipheriv(CIPHER, keyFrom(secret, salt), rest.subarray(0, NONCE_BYTES), { authTagLength: TAG_BYTES });
  decipher.setAuthTag(rest.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES));
  return Buffer.concat([decipher.update(rest.subarray(NONCE_BYTES + TAG_BYTES)), decipher.final()]).toString('utf8');
}
