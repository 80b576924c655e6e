import { adoption, calibration, calibrationRequest, calibrationSummary } from '../calibration.ts';
import { exampleCalibration, exampleCalibrationRequest, exampleCalibrationSummary } from '../calibration-examples.ts';
import { material } from '../material.ts';
import { pageQuery } from '../query.ts';
import type { Route } from '../route.ts';
import { byId, ok, page } from './answers.ts';

export const calibrationRoutes = {
  createCalibration: {
    method: 'POST',
    url: '/v1/calibrations',
    tag: 'test house',
    summary: 'Learn from what was measured on prints of a material',
    description:
      'Answers at once; a worker fits strut growth, density, modulus, loss factor and joint factor to the measurements, tells what they cannot tell, and compares candidates for the next print.',
    body: calibrationRequest,
    bodyExample: exampleCalibrationRequest,
    responses: { 202: { description: 'Accepted: poll the Location', schema: calibration, headers: ['Location'] } },
  },
  listCalibrations: {
    method: 'GET',
    url: '/v1/calibrations',
    tag: 'test house',
    summary: 'The calibrations of the team, newest first',
    query: pageQuery,
    responses: page(calibrationSummary, 'A page of calibrations', exampleCalibrationSummary),
  },
  getCalibration: {
    method: 'GET',
    url: '/v1/calibrations/:id',
    tag: 'test house',
    summary: 'A calibration: estimates with their spread, what is not told, residuals, predictions, the next print',
    params: byId,
    responses: ok(calibration, 'The calibration', exampleCalibration),
  },
  adoptCalibration: {
    method: 'POST',
    url: '/v1/calibrations/:id/material',
    tag: 'test house',
    summary: 'Keep the calibrated material as the next revision of a record',
    description: 'Evaluations with it predict parts as they print, and carry the spread of the calibration.',
    params: byId,
    body: adoption,
    bodyExample: { key: 'league-tpu' },
    responses: { 201: { description: 'The new revision', schema: material, headers: ['Location'] } },
    problems: ['not-finished'],
  },
} as const satisfies Record<string, Route>;
