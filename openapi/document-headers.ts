/** Headers of answers. */
export const HEADERS = {
  Location: { description: 'Where to read what was made', schema: { type: 'string' } },
  ETag: { description: 'Send it back as If-None-Match: an unchanged answer is 304 without a body', schema: { type: 'string' } },
  'Accept-Ranges': { description: '`bytes`: a part can be asked for with Range', schema: { type: 'string' } },
  'Content-Range': { description: 'Which bytes these are, and of how many', schema: { type: 'string' } },
  'Content-Digest': { description: 'SHA-256 of what is sent (RFC 9530)', schema: { type: 'string' } },
  'Repr-Digest': { description: 'SHA-256 of the whole file, in the same content coding (RFC 9530)', schema: { type: 'string' } },
  'WWW-Authenticate': { description: 'How to authenticate', schema: { type: 'string' } },
  'Retry-After': { description: 'Seconds to wait before the next try', schema: { type: 'integer' } },
};

/** Headers of requests. */
export const HEADER_PARAMETERS = {
  IdempotencyKey: {
    name: 'Idempotency-Key',
    in: 'header',
    required: false,
    description: 'A key of your own (a UUID, say): the same request sent again with it gets the first answer again, for 24 hours',
    schema: { type: 'string', minLength: 1, maxLength: 255, pattern: '^[\\x21-\\x7e]+$' },
  },
  Range: {
    name: 'Range',
    in: 'header',
    required: false,
    description: 'One range of bytes of the plain file; anything else is ignored',
    schema: { type: 'string', examples: ['bytes=0-1023'] },
  },
  IfRange: {
    name: 'If-Range',
    in: 'header',
    required: false,
    description: 'The ETag the range belongs to: of a file that has changed the whole is sent',
    schema: { type: 'string' },
  },
} as const;
