import etag from '@fastify/etag';
import type { FastifyInstance } from 'fastify';

/** Headers that describe a body, which a 304 has not. */
const OF_A_BODY = ['content-digest', 'content-encoding', 'content-length', 'content-range', 'content-type', 'content-disposition'];

/** Gives every answer of this scope an ETag, and answers 304 without a body where the client has it already. */
export async function answerConditionally(scope: FastifyInstance): Promise<void> {
  await scope.register(etag);
  scope.addHook('onSend', async (_request, reply, payload) => {
    if (reply.statusCode !== 304) return payload;
    for (const name of OF_A_BODY) reply.removeHeader(name);
    return null;
  });
}
