import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import type { FastifyInstance } from 'fastify';
import { openapiDocument } from '../openapi/index.ts';
import type { Handlers } from './handlers.ts';

/** Serves /docs, pages that load nothing from elsewhere, and answers /openapi.json; both show the document made from the route table. */
export async function documentation(app: FastifyInstance): Promise<Handlers<'openapiDocument'>> {
  const document = openapiDocument();
  await app.register(swagger, { mode: 'static', specification: { document: document as never } });
  await app.register(swaggerUi, { routePrefix: '/docs', theme: { title: 'strutwright' }, uiConfig: { tryItOutEnabled: false } });
  return { openapiDocument: async () => ({ body: document }) };
}
