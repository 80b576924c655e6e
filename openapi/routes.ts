import { z } from 'zod';
import { buildVolume, buildVolumeBody } from './build-volume.ts';
import { BUILD_VOLUMES, MATERIALS, REFERENCES } from './catalogue/index.ts';
import { identifier, recordKey } from './common.ts';
import { design, designBody, designChange, tag, version, versionBody, versionChange } from './design.ts';
import { evaluationDifference, versionDifference, withEvaluation, withVersion } from './difference.ts';
import { evaluation, evaluationRequest, evaluationSummary, file } from './evaluation.ts';
import { eventsQuery } from './events.ts';
import {
  exampleBuildVolumeBody,
  exampleDesign,
  exampleEvaluation,
  exampleEvaluationDifference,
  exampleEvents,
  exampleFile,
  exampleKey,
  exampleMaterialBody,
  exampleParameterSet,
  exampleReferenceBody,
  exampleRequest,
  exampleSummary,
  exampleTray,
  exampleTrayRequest,
  exampleTraySummary,
  exampleVersion,
  exampleVersionDifference,
} from './examples.ts';
import { historyQuery } from './history.ts';
import { apiKey, createdKey, createdTeam, keyBody, teamBody } from './key.ts';
import { material, materialBody } from './material.ts';
import { ordinal, pageOf, pageQuery, revisionQuery } from './query.ts';
import { reference, referenceBody } from './reference.ts';
import type { Route } from './route.ts';
import { tray, trayRequest, traySummary } from './tray.ts';

const byId = z.strictObject({ id: identifier });
const byKey = z.strictObject({ key: recordKey });
const versionNumber = z.strictObject({ id: identifier, number: ordinal });
const fileName = z.strictObject({
  id: identifier,
  name: z
    .string()
    .max(100)
    .regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/, 'letters, digits, dots, hyphens and underscores')
    .meta({ examples: ['graph.json'] }),
});

const ok = <S extends z.ZodType>(schema: S, description: string, example: z.output<S>) =>
  ({ 200: { description, schema, headers: ['ETag'], example } }) as const;
const page = <S extends z.ZodType>(item: S, description: string, ...items: z.output<S>[]) =>
  ({ 200: { description, schema: pageOf(item), headers: ['ETag'], example: { items, nextCursor: null } } }) as const;
const created = <S extends z.ZodType>(schema: S, description: string) => ({ 201: { description, schema, headers: ['Location'] } }) as const;

const download = () =>
  ({
    200: { description: 'The file, in its own media type', mediaType: 'application/octet-stream', headers: OF_A_FILE },
    206: { description: 'A part of it', mediaType: 'application/octet-stream', headers: [...OF_A_FILE, 'Content-Range'] },
  }) as const;

const OF_A_FILE = ['ETag', 'Accept-Ranges', 'Content-Digest', 'Repr-Digest'] as const;

const ARCHIVED_RECORD =
  'It leaves the list and can no longer be named; its revisions, and what was evaluated with them, stay. Posting the key again opens it.';

const FOLLOWED = `Sends an event \`evaluation\` with \`{ id, status, stage, progressPct }\` for the state of each and for every change of it.
When all that were asked for are final, an event \`end\` comes and the stream ends. A stream that ends without it (at the latest after 15
minutes) is to be opened again, with \`Last-Event-ID\`: the states as they are then come first.`;

/** Every route, by its operation id. */
export const routes = {
  createEvaluation: {
    method: 'POST',
    url: '/v1/evaluations',
    tag: 'evaluations',
    summary: 'Evaluate a parameter set',
    description: 'Answers at once; the evaluation is computed by a worker. The same input under the same engine version is computed once.',
    body: evaluationRequest,
    bodyExample: exampleRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: evaluation, headers: ['Location'] } },
  },
  listEvaluations: {
    method: 'GET',
    url: '/v1/evaluations',
    tag: 'evaluations',
    summary: 'The history of evaluations',
    description: 'Filter by a number with `massG.gte=300&massG.lte=320`, sort with `sort=-reboundHeightMm`.',
    query: historyQuery,
    responses: page(evaluationSummary, 'A page of the history', exampleSummary),
  },
  getEvaluation: {
    method: 'GET',
    url: '/v1/evaluations/:id',
    tag: 'evaluations',
    summary: 'Status and result of an evaluation',
    params: byId,
    responses: ok(evaluation, 'The evaluation', exampleEvaluation),
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
  compareEvaluations: {
    method: 'GET',
    url: '/v1/evaluations/:id/difference',
    tag: 'evaluations',
    summary: 'Two evaluations side by side: what differs, and how much of it is the same',
    params: byId,
    query: withEvaluation,
    responses: ok(evaluationDifference, 'The differences', exampleEvaluationDifference),
  },
  listFiles: {
    method: 'GET',
    url: '/v1/evaluations/:id/files',
    tag: 'evaluations',
    summary: 'The files of an evaluation',
    params: byId,
    responses: page(file, 'All files; empty until the evaluation is done', exampleFile),
  },
  getFile: {
    method: 'GET',
    url: '/v1/evaluations/:id/files/:name',
    tag: 'evaluations',
    summary: 'Download a file',
    params: fileName,
    responses: download(),
    problems: ['range-not-satisfiable'],
  },

  followEvaluations: {
    method: 'GET',
    url: '/v1/events',
    tag: 'evaluations',
    summary: 'Follow evaluations as server-sent events',
    description: FOLLOWED,
    query: eventsQuery,
    responses: {
      200: { description: 'The events, as they happen', schema: z.string(), mediaType: 'text/event-stream', example: exampleEvents },
    },
  },

  createTray: {
    method: 'POST',
    url: '/v1/trays',
    tag: 'trays',
    summary: 'Plan one build of several versions',
    description:
      'Answers at once; a worker packs the copies, first ones before second ones, and lists those that find no place. The same tray under the same engine version is planned once.',
    body: trayRequest,
    bodyExample: exampleTrayRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: tray, headers: ['Location'] } },
  },
  listTrays: {
    method: 'GET',
    url: '/v1/trays',
    tag: 'trays',
    summary: 'The trays of the team, newest first',
    query: pageQuery,
    responses: page(traySummary, 'A page of trays', exampleTraySummary),
  },
  getTray: {
    method: 'GET',
    url: '/v1/trays/:id',
    tag: 'trays',
    summary: 'A tray: its state, and where each part stands, what the build takes and what each part costs',
    params: byId,
    responses: ok(tray, 'The tray', exampleTray),
  },
  cancelTray: {
    method: 'DELETE',
    url: '/v1/trays/:id',
    tag: 'trays',
    summary: 'Cancel the planning of a tray',
    description: 'Stops what has not finished, soon; nothing is erased. Cancelling twice is the same as cancelling once.',
    params: byId,
    responses: { 200: { description: 'The tray; still running until its worker has stopped', schema: tray } },
    problems: ['already-finished'],
  },
  listTrayFiles: {
    method: 'GET',
    url: '/v1/trays/:id/files',
    tag: 'trays',
    summary: 'The files of a tray: tray.3mf with every part at its place, scaled by what it shrinks, and layers.json',
    params: byId,
    responses: page(file, 'All files; empty until the tray is done', exampleFile),
  },
  getTrayFile: {
    method: 'GET',
    url: '/v1/trays/:id/files/:name',
    tag: 'trays',
    summary: 'Download a file of a tray',
    params: fileName,
    responses: download(),
    problems: ['range-not-satisfiable'],
  },

  createDesign: {
    method: 'POST',
    url: '/v1/designs',
    tag: 'designs',
    summary: 'Start a design',
    body: designBody,
    bodyExample: { name: exampleDesign.name, notes: exampleDesign.notes, tags: exampleDesign.tags },
    responses: created(design, 'The new design'),
  },
  listDesigns: {
    method: 'GET',
    url: '/v1/designs',
    tag: 'designs',
    summary: 'The designs of the team that are not archived, newest first',
    query: pageQuery.extend({ tag: tag.optional() }),
    responses: page(design, 'A page of designs', exampleDesign),
  },
  getDesign: {
    method: 'GET',
    url: '/v1/designs/:id',
    tag: 'designs',
    summary: 'A design',
    params: byId,
    responses: ok(design, 'The design', exampleDesign),
  },
  changeDesign: {
    method: 'PATCH',
    url: '/v1/designs/:id',
    tag: 'designs',
    summary: 'Change the name, notes or tags of a design',
    params: byId,
    body: designChange,
    bodyExample: { tags: ['for-print'] },
    responses: { 200: { description: 'The design, changed', schema: design } },
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
    bodyExample: { parameterSet: exampleParameterSet, notes: exampleVersion.notes, tags: exampleVersion.tags },
    responses: created(version, 'The new version'),
    problems: ['archived'],
  },
  listVersions: {
    method: 'GET',
    url: '/v1/designs/:id/versions',
    tag: 'designs',
    summary: 'The versions of a design, newest first',
    params: byId,
    query: pageQuery.extend({ tag: tag.optional() }),
    responses: page(version, 'A page of versions', exampleVersion),
  },
  getVersion: {
    method: 'GET',
    url: '/v1/designs/:id/versions/:number',
    tag: 'designs',
    summary: 'A version of a design',
    params: versionNumber,
    responses: ok(version, 'The version', exampleVersion),
  },
  compareVersions: {
    method: 'GET',
    url: '/v1/designs/:id/versions/:number/difference',
    tag: 'designs',
    summary: 'Two versions of a design side by side: what differs, and how much of it is the same',
    params: versionNumber,
    query: withVersion,
    responses: ok(versionDifference, 'The differences', exampleVersionDifference),
  },
  changeVersion: {
    method: 'PATCH',
    url: '/v1/designs/:id/versions/:number',
    tag: 'designs',
    summary: 'Change the notes or tags of a version',
    description: 'Its parameter set never changes: that is the next version.',
    params: versionNumber,
    body: versionChange,
    bodyExample: { notes: 'Printed twice, a little heavy', tags: ['printed'] },
    responses: { 200: { description: 'The version, changed', schema: version } },
  },

  createMaterial: {
    method: 'POST',
    url: '/v1/materials',
    tag: 'records',
    summary: 'Add a material, or the next revision of one',
    body: materialBody,
    bodyExample: exampleMaterialBody,
    responses: created(material, 'The new revision'),
    problems: ['key-taken'],
  },
  listMaterials: {
    method: 'GET',
    url: '/v1/materials',
    tag: 'records',
    summary: "The built-in materials, then the team's own, each at its newest revision",
    query: pageQuery,
    responses: page(material, 'A page of materials', MATERIALS[0]),
  },
  getMaterial: {
    method: 'GET',
    url: '/v1/materials/:key',
    tag: 'records',
    summary: 'A material',
    params: byKey,
    query: revisionQuery,
    responses: ok(material, 'The material', MATERIALS[0]),
  },
  archiveMaterial: {
    method: 'DELETE',
    url: '/v1/materials/:key',
    tag: 'records',
    summary: 'Archive a material',
    description: ARCHIVED_RECORD,
    params: byKey,
    responses: { 200: { description: 'The material, archived', schema: material } },
    problems: ['key-taken'],
  },
  createBuildVolume: {
    method: 'POST',
    url: '/v1/build-volumes',
    tag: 'records',
    summary: 'Add a build volume, or the next revision of one',
    body: buildVolumeBody,
    bodyExample: exampleBuildVolumeBody,
    responses: created(buildVolume, 'The new revision'),
    problems: ['key-taken'],
  },
  listBuildVolumes: {
    method: 'GET',
    url: '/v1/build-volumes',
    tag: 'records',
    summary: "The built-in build volumes, then the team's own, each at its newest revision",
    query: pageQuery,
    responses: page(buildVolume, 'A page of build volumes', BUILD_VOLUMES[1]),
  },
  getBuildVolume: {
    method: 'GET',
    url: '/v1/build-volumes/:key',
    tag: 'records',
    summary: 'A build volume',
    params: byKey,
    query: revisionQuery,
    responses: ok(buildVolume, 'The build volume', BUILD_VOLUMES[1]),
  },
  archiveBuildVolume: {
    method: 'DELETE',
    url: '/v1/build-volumes/:key',
    tag: 'records',
    summary: 'Archive a build volume',
    description: ARCHIVED_RECORD,
    params: byKey,
    responses: { 200: { description: 'The build volume, archived', schema: buildVolume } },
    problems: ['key-taken'],
  },
  createReference: {
    method: 'POST',
    url: '/v1/references',
    tag: 'records',
    summary: 'Add a reference, or the next revision of one',
    body: referenceBody,
    bodyExample: exampleReferenceBody,
    responses: created(reference, 'The new revision'),
    problems: ['key-taken'],
  },
  listReferences: {
    method: 'GET',
    url: '/v1/references',
    tag: 'records',
    summary: "The built-in references, then the team's own, each at its newest revision",
    query: pageQuery,
    responses: page(reference, 'A page of references', REFERENCES[1]),
  },
  getReference: {
    method: 'GET',
    url: '/v1/references/:key',
    tag: 'records',
    summary: 'A reference',
    params: byKey,
    query: revisionQuery,
    responses: ok(reference, 'The reference', REFERENCES[1]),
  },
  archiveReference: {
    method: 'DELETE',
    url: '/v1/references/:key',
    tag: 'records',
    summary: 'Archive a reference',
    description: ARCHIVED_RECORD,
    params: byKey,
    responses: { 200: { description: 'The reference, archived', schema: reference } },
    problems: ['key-taken'],
  },

  createKey: {
    method: 'POST',
    url: '/v1/keys',
    tag: 'keys',
    summary: 'Make an API key for the own team',
    role: 'admin',
    secret: true,
    body: keyBody,
    bodyExample: { name: exampleKey.name, role: exampleKey.role },
    responses: created(createdKey, 'The key, shown this once'),
  },
  listKeys: {
    method: 'GET',
    url: '/v1/keys',
    tag: 'keys',
    summary: 'The API keys of the own team',
    role: 'admin',
    responses: page(apiKey, 'All keys, without their secrets', exampleKey),
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
    secret: true,
    body: teamBody,
    bodyExample: { name: 'Harbour Schools League' },
    responses: { 201: { description: 'The team and its key, shown this once', schema: createdTeam } },
  },

  livez: {
    method: 'GET',
    url: '/livez',
    tag: 'service',
    summary: 'The process answers',
    open: true,
    responses: { 200: { description: 'Alive', schema: z.strictObject({ status: z.literal('ok') }), example: { status: 'ok' } } },
  },
  readyz: {
    method: 'GET',
    url: '/readyz',
    tag: 'service',
    summary: 'The service can take work: database and queue answer, and it is not shutting down',
    open: true,
    responses: { 200: { description: 'Ready', schema: z.strictObject({ status: z.literal('ok') }), example: { status: 'ok' } } },
    problems: ['unavailable'],
  },
  metrics: {
    method: 'GET',
    url: '/metrics',
    tag: 'service',
    summary: "Metrics of the process in the Prometheus text format; no team's data",
    open: true,
    responses: {
      200: { description: 'The metrics', schema: z.string(), mediaType: 'text/plain', example: 'process_cpu_seconds_total 12.3' },
    },
  },
  openapiDocument: {
    method: 'GET',
    url: '/openapi.json',
    tag: 'service',
    summary: 'This document',
    open: true,
    responses: { 200: { description: 'OpenAPI 3.1', schema: z.record(z.string(), z.unknown()), example: { openapi: '3.1.0' } } },
  },
  docs: {
    method: 'GET',
    url: '/docs',
    tag: 'service',
    summary: 'This document as pages',
    open: true,
    responses: { 200: { description: 'A page', schema: z.string(), mediaType: 'text/html', example: '<!doctype html>' } },
  },
} as const satisfies Record<string, Route>;

export type Routes = typeof routes;
export type OperationId = keyof Routes;
