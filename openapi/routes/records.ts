import { z } from 'zod';
import { buildVolume, buildVolumeBody } from '../build-volume.ts';
import { BUILD_VOLUMES, MATERIALS, REFERENCES } from '../catalogue/index.ts';
import { recordKey } from '../common.ts';
import { exampleBuildVolumeBody, exampleMaterialBody, exampleReferenceBody } from '../examples.ts';
import { material, materialBody } from '../material.ts';
import { pageQuery, revisionQuery } from '../query.ts';
import { reference, referenceBody } from '../reference.ts';
import type { Route } from '../route.ts';
import { created, ok, page } from './answers.ts';

const ARCHIVED_RECORD =
  'It leaves the list and can no longer be named; its revisions, and what was evaluated with them, stay. Posting the key again opens it.';

const byKey = z.strictObject({ key: recordKey });

export const recordRoutes = {
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
} as const satisfies Record<string, Route>;
