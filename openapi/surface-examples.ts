import type { z } from 'zod';
import type { Effects, Surface, SurfaceQuestion, SurfaceRequest, surfacePredictions, surfaceSummary } from './surface.ts';

const batchId = '01948f3a-7c00-7d10-8a00-000000000501';
export const exampleSurfaceRequest: SurfaceRequest = { batchId, quantities: ['massG', 'totalPerPart'] };
const state = {
  ...{ id: '01948f3a-7c00-7d10-8a00-000000000701', status: 'done' as const, stage: null, progressPct: 100 },
  createdAt: '2027-02-01T06:00:00.000Z',
  startedAt: '2027-02-01T06:00:00.120Z',
  finishedAt: '2027-02-01T06:00:02.480Z',
  ...{ batchId, searchId: null, finished: 508, points: 508 },
};
export const exampleSurfaceSummary: z.output<typeof surfaceSummary> = { ...state, quantities: ['massG'] };
export const exampleSurface: Surface = {
  ...state,
  factors: [
    { path: 'layers.0.strutDiameterMm', choices: null, min: 3.004, max: 4.996 },
    {
      ...{ path: 'tiling', min: null, max: null },
      choices: [
        { m: 3, n: 3 },
        { m: 4, n: 2 },
      ],
    },
  ],
  quantities: ['massG'],
  result: {
    engine: { version: '1.0.0', inputHash: 'sha256:0' },
    quantities: [
      {
        quantity: 'massG',
        model: {
          kind: 'gaussian-process',
          form: 'value',
          hyperparameters: { kernel: 'squared-exponential', lengths: [2.1, 4.8, 4.8], noise: 1e-8 },
        },
        fitted: 300,
        candidates: [
          { kind: 'quadratic', form: 'value', rmse: 0.21 },
          { kind: 'gaussian-process', form: 'value', rmse: 0.03 },
        ],
        ...{ rmse: 0.03, explained: 0.9999, intervalFactor: 2.1 },
        covered: { hits: 286, count: 300, share: 0.953, from: 0.923, to: 0.972 },
        kept: { rmse: 0.028, covered: { hits: 199, count: 208, share: 0.957, from: 0.92, to: 0.977 } },
      },
    ],
  },
  error: null,
  warnings: [],
};
export const exampleSurfaceQuestion: SurfaceQuestion = {
  points: [
    [
      { path: 'layers.0.strutDiameterMm', value: 4.1 },
      { path: 'tiling', value: { m: 3, n: 3 } },
    ],
  ],
};
export const examplePredictions: z.output<typeof surfacePredictions> = {
  items: [{ quantities: { massG: { value: 305.2, low: 305.1, high: 305.3 } }, extrapolates: false }],
};
export const exampleEffects: Effects = {
  ...{ quantity: 'massG', finished: 508, points: 508, mean: 301.4, deviation: 42.8 },
  parameters: [
    {
      path: 'tiling',
      share: 0.06,
      levels: [
        { from: null, to: null, choice: { m: 3, n: 3 }, count: 254, mean: 311.9, deviation: 41.2, effect: 10.5 },
        { from: null, to: null, choice: { m: 4, n: 2 }, count: 254, mean: 290.9, deviation: 41.8, effect: -10.5 },
      ],
    },
  ],
  rest: 0.02,
  warnings: [],
};
export const exampleSelectionEffects = { ...exampleEffects, complete: true };
