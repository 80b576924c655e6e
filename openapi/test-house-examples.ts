import type { Acceptance, AcceptanceBody, AcceptanceSummary } from './acceptance.ts';
import type { DesignComparison, VersionComparison } from './comparison.ts';
import { exampleDesign, exampleEvaluation, exampleVersion } from './examples.ts';
import type { Print, PrintBody } from './print.ts';
import type { TestMeasurement, TestMeasurementBody } from './test-measurement.ts';

/** Examples of what comes back from the test house; every number is invented. */

const createdAt = '2027-02-05T15:00:00.000Z';
const made = {
  versionId: exampleVersion.id,
  lot: { name: 'Lot 14', virginSharePct: 50 },
  build: '2027-02-03 A',
  finishing: [{ kind: 'cleaning' as const, method: 'glass beads, 2 bar', massChangeG: -0.4, surfaceChangeMm: null, surface: 'matt' }],
  printedOn: '2027-02-03',
  notes: '',
};
export const examplePrintBody: PrintBody = {
  ...made,
  material: 'tpu-soft',
  buildVolume: 'medium-polymer',
  copies: [
    { serial: 'HSL-1-01', placeMm: [100, 100, 90], orientationDeg: [0, 0, 0] },
    { serial: 'HSL-1-02', placeMm: [100, 100, 270], orientationDeg: [0, 0, 0] },
  ],
};
export const examplePrint: Print = {
  id: '019abc10-0000-7000-8000-000000000021',
  serial: 'HSL-1-01',
  ...made,
  placeMm: [100, 100, 90],
  orientationDeg: [0, 0, 0],
  designId: exampleDesign.id,
  version: 1,
  material: { key: 'tpu-soft', revision: 1 },
  buildVolume: { key: 'medium-polymer', revision: 1 },
  createdAt,
  archivedAt: null,
};

export const exampleTestMeasurementBody: TestMeasurementBody = {
  kind: 'rebound',
  serial: 'HSL-1-01',
  measuredAt: '2027-02-05T10:00:00Z',
  unit: 'cm',
  dropHeight: 180,
  surface: 'granite plate',
  drops: [
    { orientation: 'pentagon', bounces: [112.5, 71.2] },
    { orientation: 'seam', bounces: [110.1, 69.8] },
  ],
  instrument: 'camera, 240 frames a second, beside a rule',
  method: 'lowest point of the part',
  standard: '',
  operator: 'KB',
  conditioning: { hours: 24, temperature: { value: 23, unit: 'degC' }, humidityPct: 50 },
  temperature: { value: 23, unit: 'degC' },
  notes: 'invented',
};
export const exampleTestMeasurement: TestMeasurement = {
  id: '019abc10-0000-7000-8000-000000000022',
  printId: examplePrint.id,
  serial: examplePrint.serial,
  designId: exampleDesign.id,
  versionId: exampleVersion.id,
  version: 1,
  kind: 'rebound',
  measuredAt: '2027-02-05T10:00:00.000Z',
  given: exampleTestMeasurementBody,
  values: {
    quantities: { reboundHeightMm: [1125, 1101], restitution: [0.790569415042, 0.782091213356] },
    conditions: { dropHeightMm: 1800, temperatureC: 23 },
    restitutionByBounce: [
      [0.790569415042, 0.795543504628],
      [0.782091213356, 0.79622439612],
    ],
  },
  outliers: [],
  createdAt,
  archivedAt: null,
};

const group = { material: examplePrint.material, buildVolume: examplePrint.buildVolume, finishing: 'cleaning' };
const massOfParts = { prints: 4, readings: 12, mean: 305.6, deviation: 1.1, min: 304.2, max: 306.8, outliers: [], leftOut: 0 };
const compared = { predicted: 301.1, differencePct: 1.49, inside: true };
export const exampleVersionComparison: VersionComparison = {
  designId: exampleDesign.id,
  versionId: exampleVersion.id,
  number: 1,
  groups: [
    {
      ...group,
      evaluation: { id: exampleEvaluation.id, engineVersion: '1.0.0', material: 'tpu-soft', materialRevision: 1 },
      quantities: [
        {
          quantity: 'massG',
          ...compared,
          finishing: -0.4,
          band: { min: 295.2, max: 307.4, of: ['variation'] },
          difference: 4.5,
          printsInside: 4,
          measured: massOfParts,
        },
      ],
    },
  ],
};
export const exampleDesignComparison: DesignComparison = {
  designId: exampleDesign.id,
  quantities: [
    {
      quantity: 'massG',
      points: [{ versionId: exampleVersion.id, number: 1, ...group, ...compared, measured: 305.6, deviation: 1.1, prints: 4 }],
      closerBy: null,
    },
  ],
};

export const exampleAcceptanceBody: AcceptanceBody = {
  versionId: exampleVersion.id,
  reference: 'handball-size-1',
  statement: 'parts',
  coveragePct: 95,
  confidencePct: 90,
  durability: { counted: 'impacts', atLeast: 5000, reliabilityPct: 90 },
  notes: 'Before the second lot is printed',
};
export const exampleAcceptanceSummary: AcceptanceSummary = {
  id: '019abc10-0000-7000-8000-000000000023',
  designId: exampleDesign.id,
  versionId: exampleVersion.id,
  version: 1,
  verdict: 'needs-more',
  reference: 'handball-size-1',
  referenceRevision: 1,
  decidedBy: { keyId: '019abc10-0000-7000-8000-000000000004', name: 'Coach' },
  createdAt,
};
const confidence = 'with 90 % confidence';
export const exampleAcceptance: Acceptance = {
  ...exampleAcceptanceBody,
  ...exampleAcceptanceSummary,
  targets: [
    {
      quantity: 'massG',
      min: 290,
      max: 330,
      verdict: 'accepted',
      more: null,
      statement: `95 % of parts within 290 to 330 ${confidence}, parts taken as normally distributed`,
      interval: { from: 300.9, to: 310.3, factor: 4.17 },
      measured: massOfParts,
    },
  ],
  unjudged: [],
  durability: {
    verdict: 'needs-more',
    more: 18,
    statement: `90 % of parts last 5000 impacts without a crack, ${confidence}`,
    passed: 4,
    failed: 0,
    undecided: 0,
    reliabilityPct: { from: 56.2, to: 100 },
  },
  evidence: [
    { measurementId: exampleTestMeasurement.id, serial: examplePrint.serial, measuredAt: createdAt, quantities: { massG: [305.4, 305.6] } },
  ],
};
