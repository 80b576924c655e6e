import type { Calibration, CalibrationRequest, CalibrationSummary } from './calibration.ts';
import { exampleEvaluation, exampleParameterSet } from './examples.ts';
import { settle } from './parameter-set.ts';

const versionId = '019abc10-0000-7000-8000-000000000002';
export const exampleCalibrationRequest: CalibrationRequest = {
  material: 'tpu-soft',
  buildVolume: 'medium-polymer',
  finishing: 'cleaning',
  noise: { massG: { scatterPct: 1, biasPct: 0.1 } },
  candidates: [versionId],
  targets: [{ quantity: 'massG', min: 307, target: 310, max: 313 }],
};
const state = {
  id: '019abc10-0000-7000-8000-000000000031',
  status: 'running' as const,
  stage: 'responses',
  progressPct: 40,
  createdAt: '2027-03-01T09:00:00.000Z',
  startedAt: '2027-03-01T09:00:00.120Z',
  finishedAt: null,
};
export const exampleCalibrationSummary: CalibrationSummary = { ...state, material: 'tpu-soft', observations: 1 };
export const exampleCalibration: Calibration = {
  ...state,
  input: {
    material: exampleEvaluation.input.material,
    conditions: { secantAtPct: null, dropHeightMm: null },
    versions: [{ versionId, number: 3, parameterSet: settle(exampleParameterSet) }],
    observations: [
      {
        ...{ measurementId: '019abc10-0000-7000-8000-000000000022', version: 0, quantity: 'massG', value: 322.4 },
        ...{ scatterPct: 1, biasPct: 0.1, instrument: 'scale, 0.01 g' },
      },
    ],
    noise: { massG: { scatterPct: 1, biasPct: 0.1 } },
    candidates: [0],
    targets: [{ quantity: 'massG', min: 307, target: 310, max: 313 }],
    leftOut: [],
  },
  result: null,
  error: null,
};
