import { z } from 'zod';
import { identifier } from '../common.ts';
import { comparisonQuery, designComparison, versionComparison } from '../comparison.ts';
import { design, designBody, designChange, tag, version, versionBody, versionChange } from '../design.ts';
import { versionDifference, withVersion } from '../difference.ts';
import { exampleDesign, exampleParameterSet, exampleVersion, exampleVersionDifference } from '../examples.ts';
import { searchText } from '../history.ts';
import { exampleLineageVersion, lineageQuery, lineageVersion } from '../lineage.ts';
import { ordinal, pageQuery } from '../query.ts';
import type { Route } from '../route.ts';
import { exampleDesignComparison, exampleVersionComparison } from '../test-house-examples.ts';
import { byId, created, ok, page } from './answers.ts';

const versionNumber = z.strictObject({ id: identifier, number: ordinal });

export const designRoutes = {
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
    query: pageQuery.extend({
      tag: tag.optional(),
      q: searchText.optional().meta({ description: "Designs whose name or notes, or a version's notes, have these words" }),
    }),
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
  getLineage: {
    method: 'GET',
    url: '/v1/designs/:id/lineage',
    tag: 'designs',
    summary: 'The versions of a design as a tree, newest first: what each came from, what was changed, and what is known of it',
    description:
      'Parents and followers are named with their designs, which may be others; so pages, of 500 versions at most, join to one tree.',
    params: byId,
    query: lineageQuery,
    responses: page(lineageVersion, 'A page of the tree', exampleLineageVersion),
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
    summary: 'Two versions, of one design or of two, side by side: what differs, and how much of it is the same',
    params: versionNumber,
    query: withVersion,
    responses: ok(versionDifference, 'The differences', exampleVersionDifference),
  },
  compareVersionWithPrints: {
    method: 'GET',
    url: '/v1/designs/:id/versions/:number/comparison',
    tag: 'test house',
    summary: 'What was predicted of a version beside what was measured on its prints',
    description: 'Parts count by the mean of their readings; those of other materials, build volumes or finishing stand by themselves.',
    params: versionNumber,
    query: comparisonQuery,
    responses: ok(versionComparison, 'The comparison', exampleVersionComparison),
  },
  compareDesignWithPrints: {
    method: 'GET',
    url: '/v1/designs/:id/comparison',
    tag: 'test house',
    summary: 'Predicted beside measured over the versions of a design',
    params: byId,
    responses: ok(designComparison, 'The trend of every quantity that was measured', exampleDesignComparison),
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
} as const satisfies Record<string, Route>;
