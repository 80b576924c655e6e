import type { EvaluationRequest, ParameterSet, Reference, Version } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { CONDITIONS, DESIGN, FIRST_GUESS } from './brief.ts';
import { type Finished, meetsAll } from './comparison.ts';
import type { Desk } from './desk.ts';
import { evaluate } from './follow.ts';
import { openProgress } from './progress.ts';
import { fixed } from './text.ts';

/** The design that all versions are of. */
export async function openDesign({ client }: Desk): Promise<string> {
  return answered(await client.POST('/v1/designs', { body: DESIGN })).id;
}

/** The first guess, as version 1. */
export async function firstGuess(desk: Desk, designId: string, reference: Reference): Promise<Finished> {
  const version = await store(desk, { designId, set: FIRST_GUESS, notes: 'A first guess.' });
  return evaluated(desk, version, reference);
}

interface Attempt {
  designId: string;
  set: ParameterSet;
  notes: string;
  basedOn?: string;
}
/** Keeps a parameter set as the next version of the design. */
export async function store({ client, say }: Desk, { designId, set, notes, basedOn }: Attempt): Promise<Version> {
  const body = { parameterSet: set, notes, basedOn };
  const version = answered(await client.POST('/v1/designs/{id}/versions', { params: { path: { id: designId } }, body })) as Version;
  say(`Version ${version.number}: ${sizes(set)}`);
  return version;
}

/** Has a version evaluated against a reference; what is asked beyond the usual conditions goes over them. */
export async function evaluated(
  { client, say, signal }: Desk,
  version: Version,
  reference: Reference,
  more: Partial<EvaluationRequest> = {},
): Promise<Finished> {
  const progress = openProgress(process.stderr, `version ${version.number}`);
  const request = { ...CONDITIONS, versionId: version.id, reference: reference.key, ...more };
  const { evaluation, seconds, asked, unchanged } = await evaluate(client, request, { progress, signal });
  const { result } = evaluation;
  const met = meetsAll(result) ? ': as wanted' : '';
  say(
    `  evaluated in ${fixed(seconds, 1)} s; asked ${asked} times for news, ${unchanged} answers were 304 Not Modified`,
    `  ${fixed(result.massProperties.massG, 1)} g, ${fixed(result.geometry.circumferenceMm, 1)} mm round, ${fixed(result.stiffness?.secantNPerMm ?? Number.NaN, 2)} N/mm${met}`,
  );
  return { version, evaluationId: evaluation.id, result };
}

function sizes({ carrier, layers, links }: ParameterSet): string {
  const struts = layers.map(({ strutDiameterMm }) => fixed(strutDiameterMm, 2)).join(' and ');
  const depth = fixed(layers.at(-1)!.depthMm, 2);
  return `${fixed(carrier.outsideDiameterMm, 2)} mm across, struts of ${struts} mm, ${depth} mm deep, posts of ${fixed(links.strutDiameterMm ?? 0, 2)} mm`;
}
