import type { ParameterSet, Version } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { type Brief, CONDITIONS, DESIGN, FIRST_GUESS, MOST_VERSIONS } from './brief.ts';
import { type Finished, meetsAll } from './comparison.ts';
import type { Desk } from './desk.ts';
import { evaluate } from './follow.ts';
import { openProgress } from './progress.ts';
import { nextStep, type Step } from './scaling.ts';
import { fixed } from './text.ts';

export interface Developed {
  designId: string;
  /** Every version in order; the last one meets all targets. */
  versions: Finished[];
}

/** Makes versions of a design, each from the results of those before, until one meets the brief. Throws when MOST_VERSIONS do not. */
export async function develop(desk: Desk, brief: Brief): Promise<Developed> {
  const design = answered(await desk.client.POST('/v1/designs', { body: DESIGN }));
  const versions: Finished[] = [];
  let [set, notes] = [FIRST_GUESS, 'A first guess.'];
  while (versions.length < MOST_VERSIONS) {
    const last = await tryOut(desk, { designId: design.id, set, notes, basedOn: versions.at(-1)?.version.id, brief });
    versions.push(last);
    if (meetsAll(last.result)) return { designId: design.id, versions };
    const step = nextStep(versions.map(trialOf), { massG: brief.massG.target, circumferenceMm: brief.circumferenceMm });
    set = step.set;
    notes = reasonOf(step);
    desk.say(`  next: ${notes}`, '');
  }
  throw new Error(`None of ${MOST_VERSIONS} versions met every target: the scaling does not converge from this first guess.`);
}

const trialOf = ({ version, result }: Finished) => ({
  set: version.parameterSet,
  massG: result.massProperties.massG,
  circumferenceMm: result.geometry.circumferenceMm,
});

interface Attempt {
  designId: string;
  set: ParameterSet;
  notes: string;
  basedOn: string | undefined;
  brief: Brief;
}

async function tryOut({ client, say, signal }: Desk, { designId, set, notes, basedOn, brief }: Attempt): Promise<Finished> {
  const body = { parameterSet: set, notes, basedOn };
  const version = answered(await client.POST('/v1/designs/{id}/versions', { params: { path: { id: designId } }, body })) as Version;
  say(`Version ${version.number}: ${sizes(set)}`);
  const progress = openProgress(process.stderr, `version ${version.number}`);
  const request = { versionId: version.id, ...CONDITIONS, reference: brief.reference };
  const { evaluation, seconds, asked, unchanged } = await evaluate(client, request, { progress, signal });
  const { result } = evaluation;
  say(
    `  evaluated in ${fixed(seconds, 1)} s; asked ${asked} times for news, ${unchanged} answers were 304 Not Modified`,
    `  ${fixed(result.massProperties.massG, 1)} g, ${fixed(result.geometry.circumferenceMm, 1)} mm round${meetsAll(result) ? ': both as wanted' : ''}`,
  );
  return { version, evaluationId: evaluation.id, result };
}

function sizes({ carrier, layers, links }: ParameterSet): string {
  const struts = layers.map(({ strutDiameterMm }) => fixed(strutDiameterMm, 2)).join(' and ');
  return `${fixed(carrier.outsideDiameterMm, 2)} mm across, struts of ${struts} mm, posts of ${fixed(links.strutDiameterMm ?? 0, 2)} mm`;
}

function reasonOf({ exponent, exponentFrom, outsideFactor, strutFactor }: Step): string {
  const because =
    exponentFrom === 'law' ? 'mass goes nearly with their square' : `mass went with their power ${fixed(exponent, 2)} between the last two`;
  const size = outsideFactor === 1 ? 'same size' : `outside diameter × ${fixed(outsideFactor, 4)}`;
  return `${size}, strut diameters × ${fixed(strutFactor, 4)} (${because})`;
}
