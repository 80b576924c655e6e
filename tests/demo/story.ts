import type { Reference } from '../../openapi/index.ts';
import { openClient } from '../../openapi/index.ts';
import { accept, acceptanceInWords } from './acceptance.ts';
import { advice, placesTable } from './advice.ts';
import { answered } from './answer.ts';
import { bounceInWords, bounceTable } from './bounce.ts';
import { BUDGET, CONDITIONS, DROPPED, leagueBall, ORIGINAL, PRESSED, wanted } from './brief.ts';
import { checksInWords, comparisonTable, type Finished, notJudged } from './comparison.ts';
import type { Desk } from './desk.ts';
import { filed } from './filing.ts';
import { inHistory } from './history.ts';
import { type Learnt, learn, learntTable } from './learning.ts';
import { conclusion, introduction, whyCloser } from './narration.ts';
import { elsewhere } from './places.ts';
import { type Compared, compared, comparedTable, missPct } from './predicted.ts';
import { printAndMeasure } from './printing.ts';
import { patientFetch } from './request.ts';
import { type Found, searchFor } from './searching.ts';
import { type Truth, truthOf } from './test-house.ts';
import { heading, wrap } from './text.ts';
import { evaluated, firstGuess, openDesign, store } from './versions.ts';

export interface Telling {
  url: string;
  key: string;
  /** Folder for the files; it is there. */
  out: string;
  say(...lines: string[]): void;
  /** Aborted when the demo is to stop. */
  signal: AbortSignal;
}

/** What every step of the story knows. */
interface Scene extends Desk {
  designId: string;
  reference: Reference;
}

/** The whole demo against the service at `url`, over public HTTP only. */
export async function tellStory({ url, key, out, say, signal }: Telling): Promise<void> {
  const client = openClient({ baseUrl: url, key, fetch: patientFetch(signal) });
  const scene = await opened({ client, say, signal });
  const first = await firstGuess(scene, scene.designId, scene.reference);
  const { second, evaluations } = await rightWeightAndSize(scene, first);
  const { third, truth } = await rightStiffness(scene, second, BUDGET - evaluations);
  await sideBySide(scene, [first, second, third]);
  const { learnt, places, before } = await learnFromPrints(scene, third, truth);
  const { fourth, truth: again } = await nextVersion(scene, third, learnt);
  const after = await closer(scene, fourth, { truth: again, before, learnt });
  await decide(scene, fourth);
  const versions = [first, second, third, fourth];
  say(...heading(`Where to print version ${third.version.number}`), ...placesTable(places));
  say(...heading('Cautions'), ...fourth.result.warnings.flatMap(({ message }) => wrap(message, '  - ')));
  say(...heading('What to try next'), ...advice(versions, places, scene.reference));
  say(...heading('Files'), ...(await filed(scene, versions, { out, reference: scene.reference })));
  say(...conclusion(fourth, after));
}

/** Who asks for what: the original's published limits and the league's own readings become a reference, and a design is opened. */
async function opened(desk: Desk): Promise<Scene> {
  const original = answered(await desk.client.GET('/v1/references/{key}', { params: { path: { key: ORIGINAL } } })) as Reference;
  const reference = answered(await desk.client.POST('/v1/references', { body: leagueBall(original) })) as Reference;
  desk.say(...introduction(original, reference));
  return { ...desk, reference, designId: await openDesign(desk) };
}

/** Version 2: what is cheap to compute first, mass and size. */
async function rightWeightAndSize(scene: Scene, first: Finished) {
  const targets = wanted(scene.reference, 'massG', 'circumferenceMm');
  const tests = { depth: 'geometry' as const };
  const found = await searchFor(scene, { name: 'weight and size', from: first.version, targets, tests, budget: BUDGET / 2 });
  const version = await keep(scene, found, first, 'Found by mass and size.');
  return { second: await evaluated(scene, version, scene.reference), evaluations: found.evaluations };
}

/** Version 3: stiffness too, from where mass and size are right; then everything that can be computed of it. */
async function rightStiffness(scene: Scene, second: Finished, budget: number) {
  const targets = wanted(scene.reference, 'massG', 'circumferenceMm', 'stiffnessNPerMm');
  const found = await searchFor(scene, { name: 'stiffness too', from: second.version, targets, tests: CONDITIONS.tests, budget });
  const version = await keep(scene, found, second, 'Found by mass, size and stiffness.');
  const [third, truth] = await Promise.all([evaluated(scene, version, scene.reference, { tests: FULL }), truthOf(scene, version)]);
  return { third, truth };
}

const FULL = { depth: 'full' as const, ...PRESSED, drop: DROPPED };

const keep = (scene: Scene, { set }: Found, { version }: Finished, notes: string) =>
  store(scene, { designId: scene.designId, set, notes, basedOn: version.id });

async function sideBySide(scene: Scene, versions: Finished[]): Promise<void> {
  const last = versions.at(-1)!;
  const { say, reference } = scene;
  say(...heading('The versions side by side'), ...comparisonTable(versions));
  say(...(await inHistory(scene, scene.designId, versions.length, reference)));
  say(...heading(`How version ${last.version.number} bounces`), ...bounceTable(last, reference), '', ...bounceInWords(last));
  say(...heading('Printability, in words'), ...checksInWords(versions), ...notJudged(last));
}

/** Three parts of the version come back from the test house; what they weigh and how they give tells what printing does. */
async function learnFromPrints(scene: Scene, third: Finished, truth: Truth) {
  scene.say(...heading(`Version ${third.version.number} comes back from the test house`));
  await printAndMeasure(scene, third.version, { truth, material: CONDITIONS.material, parts: 3 });
  const before = await compared(scene, scene.designId, third.version.number);
  scene.say('', ...comparedTable(before, scene.reference));
  scene.say(...heading('What the prints tell of the powder'));
  const [learnt, places] = await Promise.all([learn(scene, third.version), elsewhere(scene, third.version)]);
  scene.say('', ...learntTable(learnt));
  return { learnt, places, before };
}

/** Version 4: the same targets for the material as it prints. */
async function nextVersion(scene: Scene, third: Finished, { material }: Learnt) {
  const targets = wanted(scene.reference, 'massG', 'circumferenceMm', 'stiffnessNPerMm');
  const wish = { name: `the same of ${material}`, from: third.version, targets, tests: CONDITIONS.tests, budget: BUDGET, material };
  const version = await keep(scene, await searchFor(scene, wish), third, 'Found with the calibrated material.');
  const predicted = evaluated(scene, version, scene.reference, { material, tests: FULL });
  const [fourth, truth] = await Promise.all([predicted, truthOf(scene, version)]);
  return { fourth, truth };
}

/** Five parts of version 4 come back: its predictions, with what was learnt, lie closer to what is measured. */
async function closer(
  scene: Scene,
  fourth: Finished,
  { truth, before, learnt }: { truth: Truth; before: Compared[]; learnt: Learnt },
): Promise<Compared[]> {
  scene.say(...heading(`Version ${fourth.version.number} comes back from the test house`));
  await printAndMeasure(scene, fourth.version, { truth, material: learnt.material, parts: 5 });
  const after = await compared(scene, scene.designId, fourth.version.number);
  scene.say('', ...comparedTable(after, scene.reference), '', ...whyCloser(missPct(before), missPct(after), learnt));
  return after;
}

/** Whether the parts as measured are what the league asks for. */
async function decide(scene: Scene, { version }: Finished): Promise<void> {
  scene.say(...heading('Accepted?'), ...acceptanceInWords(await accept(scene, version, scene.reference)));
}
