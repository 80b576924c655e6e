import { z } from 'zod';
import { buildVolume, buildVolumeBody } from './build-volume.ts';
import { identifier, recordKey } from './common.ts';
import { design, designBody, version, versionBody } from './design.ts';
import { evaluation, evaluationRequest, evaluationSummary, file } from './evaluation.ts';
import { historyQuery } from './history.ts';
import { apiKey, createdKey, createdTeam, keyBody, teamBody } from './key.ts';
import { material, materialBody } from './material.ts';
import { numeric, pageOf, pageQuery, revisionQuery } from './query.ts';
import { reference, referenceBody } from './reference.ts';
import type { Route } from './route.ts';

const byId = z.strictObject({ id: identifier });
const byKey = z.strictObject({ key: recordKey });
const versionNumber = z.strictObject({ id: identifier, number: numeric(z.int().min(1)) });
const fileName = z.strictObject({
  id: identifier,
  name: z
    .string()
    .max(100)
    .regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/, 'letters, digits, dots, hyphens and underscores')
    .meta({ examples: ['graph.json'] }),
});

const ok = <S extends z.ZodType>(schema: S, description: string) => ({ 200: { description, schema, headers: ['ETag'] } }) as const;
const created = <S extends z.ZodType>(schema: S, description: string) => ({ 201: { description, schema, headers: ['Location'] } }) as const;

/** Every route, by its operation id. */
export const routes = {
  createEvaluation: {
    method: 'POST',
    url: '/v1/evaluations',
    tag: 'evaluations',
    summary: 'Evaluate a parameter set',
    description: 'Answers at once; the evaluation is computed by a worker. The same input under the same engine version is computed once.',
    body: evaluationRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: evaluation, headers: ['Location'] } },
  },
  listEvaluations: {
    method: 'GET',
    url: '/v1/evaluations',
    tag: 'evaluations',
    summary: 'The history of evaluations',
    description: 'Filter by a number with `massG.gte=300&massG.lte=320`, sort with `sort=-reboundHeightMm`.',
    query: historyQuery,
    responses: ok(pageOf(evaluationSummary), 'A page of the history'),
  },
  getEvaluation: {
    method: 'GET',
    url: '/v1/evaluations/:id',
    tag: 'evaluations',
    summary: 'Status and result of an evaluation',
    params: byId,
    responses: ok(evaluation, 'The evaluation'),
  },
  cancelEvaluation: {
    method: 'DELETE',
    url: '/v1/evaluations/:id',
    tag: 'evaluations',
    summary: 'Cancel an evaluation',
    description: 'Stops what has not finished; nothing is erased. Cancelling twice is the same as cancelling once.',
    params: byId,
    responses: { 200: { description: 'The evaluation, cancelled', schema: evaluation } },
    problems: ['already-finished'],
  },
  listFiles: {
    method: 'GET',
    url: '/v1/evaluations/:id/files',
    tag: 'evaluations',
    summary: 'The files of an evaluation',
    params: byId,
    responses: ok(pageOf(file), 'All files; empty until the evaluation is done'),
  },
  getFile: {
    method: 'GET',
    url: '/v1/evaluations/:id/files/:name',
    tag: 'evaluations',
    summary: 'Download a file',
    params: fileName,
    responses: { 200: { description: 'The file, in its own media type', mediaType: 'application/octet-stream', headers: ['ETag'] } },
  },

  createDesign: {
    method: 'POST',
    url: '/v1/designs',
    tag: 'designs',
    summary: 'Start a design',
    body: designBody,
    responses: created(design, 'The new design'),
  },
  listDesigns: {
    method: 'GET',
    url: '/v1/designs',
    tag: 'designs',
    summary: 'The designs of the team that are not archived, newest first',
    query: pageQuery,
    responses: ok(pageOf(design), 'A page of designs'),
  },
  getDesign: {
    method: 'GET',
    url: '/v1/designs/:id',
    tag: 'designs',
    summary: 'A design',
    params: byId,
    responses: ok(design, 'The design'),
  },
  archiveDesign: {
    method: 'DELETE',
    url: '/v1/designs/:id',
    tag: 'designs',
    summary: 'Archive a design',
    description: 'It leaves the list and takes no more versions; it, its versions and their evaluations can still be read.',
    params: byId,
    responses: { 200: { description: 'The design, archived', schema: design } },
  },
  createVersion: {
    method: 'POST',
    url: '/v1/designs/:id/versions',
    tag: 'designs',
    summary: 'Add a version to a design',
    params: byId,
    body: versionBody,
    responses: created(version, 'The new version'),
    problems: ['archived'],
  },
  listVersions: {
    method: 'GET',
    url: '/v1/designs/:id/versions',
    tag: 'designs',
    summary: 'The versions of a design, newest first',
    params: byId,
    query: pageQuery,
    responses: ok(pageOf(version), 'A page of versions'),
  },
  getVersion: {
    method: 'GET',
    url: '/v1/designs/:id/versions/:number',
    tag: 'designs',
    summary: 'A version of a design',
    params: versionNumber,
    responses: ok(version, 'The version'),
  },

  createMaterial: {
    method: 'POST',
    url: '/v1/materials',
    tag: 'records',
    summary: 'Add a material, or the next revision of one',
    body: materialBody,
    responses: created(material, 'The new revision'),
    problems: ['key-taken'],
  },
  listMaterials: {
    method: 'GET',
    url: '/v1/materials',
    tag: 'records',
    summary: "The built-in materials, then the team's own, each at its newest revision",
    query: pageQuery,
    responses: ok(pageOf(material), 'A page of materials'),
  },
  getMaterial: {
    method: 'GET',
    url: '/v1/materials/:key',
    tag: 'records',
    summary: 'A material',
    params: byKey,
    query: revisionQuery,
    responses: ok(material, 'The material'),
  },
  createBuildVolume: {
    method: 'POST',
    url: '/v1/build-volumes',
    tag: 'records',
    summary: 'Add a build volume, or the next revision of one',
    body: buildVolumeBody,
    responses: created(buildVolume, 'The new revision'),
    problems: ['key-taken'],
  },
  listBuildVolumes: {
    method: 'GET',
    url: '/v1/build-volumes',
    tag: 'records',
    summary: "The built-in build volumes, then the team's own, each at its newest revision",
    query: pageQuery,
    responses: ok(pageOf(buildVolume), 'A page of build volumes'),
  },
  getBuildVolume: {
    method: 'GET',
    url: '/v1/build-volumes/:key',
    tag: 'records',
    summary: 'A build volume',
    params: byKey,
    query: revisionQuery,
    responses: ok(buildVolume, 'The build volume'),
  },
  createReference: {
    method: 'POST',
    url: '/v1/references',
    tag: 'records',
    summary: 'Add a reference, or the next revision of one',
    body: referenceBody,
    responses: created(reference, 'The new revision'),
    problems: ['key-taken'],
  },
  listReferences: {
    method: 'GET',
    url: '/v1/references',
    tag: 'records',
    summary: "The built-in references, then the team's own, each at its newest revision",
    query: pageQuery,
    responses: ok(pageOf(reference), 'A page of references'),
  },
  getReference: {
    method: 'GET',
    url: '/v1/references/:key',
    tag: 'records',
    summary: 'A reference',
    params: byKey,
    query: revisionQuery,
    responses: ok(reference, 'The reference'),
  },

  createKey: {
    method: 'POST',
    url: '/v1/keys',
    tag: 'keys',
    summary: 'Make an API key for the own team',
    role: 'admin',
    body: keyBody,
    responses: created(createdKey, 'The key, shown this once'),
  },
  listKeys: {
    method: 'GET',
    url: '/v1/keys',
    tag: 'keys',
    summary: 'The API keys of the own team',
    role: 'admin',
    responses: ok(pageOf(apiKey), 'All keys, without their secrets'),
  },
  revokeKey: {
    method: 'DELETE',
    url: '/v1/keys/:id',
    tag: 'keys',
    summary: 'Revoke an API key',
    role: 'admin',
    params: byId,
    responses: { 200: { description: 'The key, revoked', schema: apiKey } },
    problems: ['last-admin-key'],
  },
  createTeam: {
    method: 'POST',
    url: '/v1/teams',
    tag: 'keys',
    summary: 'Make a team and its first admin key',
    role: 'admin',
    body: teamBody,
    responses: { 201: { description: 'The team and its key, shown this once', schema: createdTeam } },
  },

  livez: {
    method: 'GET',
    url: '/livez',
    tag: 'service',
    summary: 'The process answers',
    open: true,
    responses: { 200: { description: 'Alive', schema: z.strictObject({ status: z.literal('ok') }) } },
  },
  readyz: {
    method: 'GET',
    url: '/readyz',
    tag: 'service',
    summary: 'The service can take work: database and queue answer, and it is not shutting down',
    open: true,
    responses: { 200: { description: 'Ready', schema: z.strictObject({ status: z.literal('ok') }) } },
    problems: ['unavailable'],
  },
  metrics: {
    method: 'GET',
    url: '/metrics',
    tag: 'service',
    summary: "Metrics of the process in the Prometheus text format; no team's data",
    open: true,
    responses: { 200: { description: 'The metrics', schema: z.string(), mediaType: 'text/plain' } },
  },
  openapiDocument: {
    method: 'GET',
    url: '/openapi.json',
    tag: 'service',
    summary: 'This document',
    open: true,
    responses: { 200: { description: 'OpenAPI 3.1', schema: z.record(z.string(), z.unknown()) } },
  },
  docs: {
    method: 'GET',
    url: '/docs',
    tag: 'service',
    summary: 'This document as pages',
    open: true,
    responses: { 200: { description: 'A page', schema: z.string(), mediaType: 'text/html' } },
  },
} as const satisfies Record<string, Route>;

export type Routes = typeof routes;
export type OperationId = keyof Routes;
