import type { BuildVolumeBody } from './build-volume.ts';
import { BUILD_VOLUMES, MATERIALS, REFERENCES } from './catalogue/index.ts';
import type { Design, Version } from './design.ts';
import { ENGINE_VERSION } from './engine-version.ts';
import type { Evaluation, EvaluationRequest, EvaluationSummary, FileRecord } from './evaluation.ts';
import postedBody from './example-request.json' with { type: 'json' };
import computed from './example-result.json' with { type: 'json' };
import type { ParetoFront } from './front.ts';
import type { ApiKeyRecord } from './key.ts';
import type { MaterialBody } from './material.ts';
import { type ParameterSet, settle } from './parameter-set.ts';
import { QUANTITIES, type Quantity } from './quantities.ts';
import type { ReferenceBody } from './reference.ts';
import type { Result } from './result.ts';
import type { Tray, TrayRequest, TraySummary } from './tray.ts';

/**
 * Examples of the document: a schools' handball league wants a size 1 training ball that never needs a pump. The result is what the engine
 * gives for the request: `npm run contract` writes it.
 */

const designId = '019abc10-0000-7000-8000-000000000001';
const versionId = '019abc10-0000-7000-8000-000000000002';
const evaluationId = '019abc10-0000-7000-8000-000000000003';
const createdAt = '2027-01-31T09:00:00.000Z';

export const exampleParameterSet = postedBody.parameterSet as ParameterSet;

export const exampleDesign: Design = {
  id: designId,
  name: 'Harbour Schools League, training ball size 1',
  notes: 'Never needs a pump',
  tags: ['training'],
  createdAt,
  archivedAt: null,
};
export const exampleVersion: Version = {
  id: versionId,
  designId,
  number: 1,
  parameterSet: exampleParameterSet,
  notes: 'First guess',
  tags: ['for-print'],
  basedOn: null,
  createdAt,
};

const thicker = { path: 'layers.0.strutDiameterMm', left: 4.2, right: 4.4, change: 0.2, changePct: 4.76 };
const heavier = { path: 'massProperties.massG', left: 301.5, right: 319.2, change: 17.7, changePct: 5.87 };
const compared = { parameters: { differing: [thicker], equalCount: 11 }, results: { differing: [heavier], equalCount: 187 } };
export const exampleVersionDifference = {
  left: { versionId, designId, number: 1, evaluationId },
  right: {
    ...{ versionId: '019abc10-0000-7000-8000-000000000005', designId, number: 2 },
    evaluationId: '019abc10-0000-7000-8000-000000000006',
  },
  ...compared,
};
export const exampleEvaluationDifference = {
  left: { evaluationId, status: 'done' as const },
  right: { evaluationId: '019abc10-0000-7000-8000-000000000006', status: 'done' as const },
  ...compared,
};

export const exampleRequest = {
  ...postedBody,
  parameterSet: exampleParameterSet,
  tests: { depth: 'geometry' },
} satisfies EvaluationRequest;

/** A built-in record as a team would post it. */
function bodyOf<T extends { key: string; builtIn: boolean; revision: number; estimates?: unknown }>(records: readonly T[], wanted: string) {
  const { builtIn: _, revision: __, estimates: ___, ...body } = records.find(({ key }) => key === wanted)!;
  return body;
}

const noQuantity = Object.fromEntries(QUANTITIES.map((name) => [name, null])) as Record<Quantity, null>;

const ofVersion = { id: evaluationId, designId, versionId, version: 1, createdAt };
export const exampleEvaluation: Evaluation = {
  ...ofVersion,
  status: 'done',
  stage: null,
  progressPct: 100,
  startedAt: '2027-01-31T09:00:00.120Z',
  finishedAt: '2027-01-31T09:00:00.870Z',
  input: {
    parameterSet: settle(exampleParameterSet),
    material: { ...bodyOf(MATERIALS, 'tpu-soft'), revision: 1 },
    buildVolume: { ...bodyOf(BUILD_VOLUMES, 'medium-polymer'), revision: 1 },
    reference: { ...bodyOf(REFERENCES, 'handball-size-1'), revision: 1 },
    tests: exampleRequest.tests,
  },
  result: computed as unknown as Result,
  error: null,
  thinnedAt: null,
};
export const exampleSummary: EvaluationSummary = {
  ...ofVersion,
  material: 'tpu-soft',
  engineVersion: ENGINE_VERSION,
  status: 'running',
  stage: 'slices',
  progressPct: 55,
  finishedAt: null,
  verdict: null,
  quantities: noQuantity,
};
export const exampleFront: ParetoFront = {
  ...{ minimise: ['totalPerPart'], maximise: ['reboundHeightMm'], lookedAt: 1, complete: true, count: 1 },
  items: [exampleSummary],
  warnings: [],
};
export const exampleEvents = [
  'event: evaluation',
  'id: 1801386000120',
  `data: {"id":"${evaluationId}","status":"running","stage":"slices","progressPct":55}`,
  '\n',
].join('\n');
export const exampleFile: FileRecord = {
  name: 'graph.json',
  mediaType: 'application/json',
  size: 163_840,
  sha256: 'b5bb9d8014a0f9b1d61e21e796d78dccdf1352f23cd32812f4850b878ae4944c',
  createdAt: '2027-01-31T09:00:01.250Z',
};

const trayId = '019abc10-0000-7000-8000-000000000007';
export const exampleTrayRequest: TrayRequest = {
  parts: [{ versionId, count: 3 }],
  material: 'tpu-soft',
  buildVolume: 'medium-polymer',
  marks: 'numbers',
};
const trayState = {
  id: trayId,
  status: 'running' as const,
  stage: 'parts',
  progressPct: 40,
  createdAt,
  startedAt: '2027-01-31T09:00:00.120Z',
  finishedAt: null,
};
export const exampleTraySummary: TraySummary = { ...trayState, parts: exampleTrayRequest.parts };
export const exampleTray: Tray = {
  ...trayState,
  input: {
    parts: [{ versionId, parameterSet: settle(exampleParameterSet), count: 3, mark: 1 }],
    material: exampleEvaluation.input.material,
    buildVolume: exampleEvaluation.input.buildVolume,
  },
  result: null,
  error: null,
};

const measured = 'measured on printed test bars';
export const exampleMaterialBody: MaterialBody = {
  ...bodyOf(MATERIALS, 'tpu-soft'),
  key: 'league-tpu',
  densityGCm3: 1.09,
  modulusMPa: 57,
  source: { densityGCm3: measured, modulusMPa: measured },
};
export const exampleBuildVolumeBody: BuildVolumeBody = {
  ...bodyOf(BUILD_VOLUMES, 'medium-polymer'),
  key: 'school-workshop',
  sizeMm: [250, 250, 300],
  source: { sizeMm: 'measured' },
};
export const exampleReferenceBody: ReferenceBody = {
  key: 'league-training-ball',
  targets: [{ quantity: 'circumferenceMm', min: 500, max: 520 }],
  measurements: [
    { quantity: 'massG', values: [309, 312, 308, 311], instrument: 'kitchen scale, 1 g', notes: 'four balls, pumped up' },
    { quantity: 'reboundHeightMm', values: [1120, 1140, 1135], instrument: 'video beside a rule', notes: '' },
  ],
  band: { kind: 'standard-deviations', factor: 2 },
  source: 'The league',
  edition: '2027',
  status: 'agreed with the coaches',
  inflation: { pressureBar: 0.4 },
  dropHeightMm: 1800,
  peakForceN: null,
};

export const exampleKey: ApiKeyRecord = {
  id: '019abc10-0000-7000-8000-000000000004',
  name: 'Coach',
  role: 'member',
  prefix: 'sw_0f2f9e6f5a11',
  createdAt,
  lastUsedAt: null,
  revokedAt: null,
};
