import { CSV_TEMPLATE, importBody, importQuery, importReport, LARGEST_CSV } from '../measurement-csv.ts';
import type { Route } from '../route.ts';
import { exampleTestMeasurement, exampleTestMeasurementBody } from '../test-house-examples.ts';
import { testMeasurement, testMeasurementBody, testMeasurementQuery } from '../test-measurement.ts';
import { byId, created, ok, page } from './answers.ts';

export const measurementRoutes = {
  createMeasurement: {
    method: 'POST',
    url: '/v1/measurements',
    tag: 'test house',
    summary: 'Enter a test of a print: mass, size, stiffness, rebound, balance, roll, durability',
    description:
      'Readings are given in the unit they were read in, and kept both so and in the units of the contract. Outliers among repeats are flagged and never left out. The same numbers of the same part at the same moment are kept once.',
    body: testMeasurementBody,
    bodyExample: exampleTestMeasurementBody,
    responses: created(testMeasurement, 'The measurement'),
    problems: ['duplicate'],
  },
  listMeasurements: {
    method: 'GET',
    url: '/v1/measurements',
    tag: 'test house',
    summary: 'The measurements of the team, newest first',
    query: testMeasurementQuery,
    responses: page(testMeasurement, 'A page of measurements', exampleTestMeasurement),
  },
  importMeasurements: {
    method: 'POST',
    url: '/v1/measurements/import',
    tag: 'test house',
    summary: 'Enter a file of measurements, all of it or nothing',
    description:
      'Each bad row is told by its number and column, as a spreadsheet counts rows (the first below the names is 2); of very many bad rows the first hundred errors. Start from the template.',
    takes: 'text/csv',
    largestBody: LARGEST_CSV,
    query: importQuery,
    body: importBody,
    bodyExample: CSV_TEMPLATE,
    responses: { 200: { description: 'Every row is good and, unless this is a dry run, kept', schema: importReport } },
    problems: ['duplicate'],
  },
  getMeasurementTemplate: {
    method: 'GET',
    url: '/v1/measurements/template.csv',
    tag: 'test house',
    summary: 'A file of measurements to fill in, with a row of each kind',
    responses: { 200: { description: 'The file', mediaType: 'text/csv', headers: ['ETag'] } },
  },
  getMeasurement: {
    method: 'GET',
    url: '/v1/measurements/:id',
    tag: 'test house',
    summary: 'A measurement',
    params: byId,
    responses: ok(testMeasurement, 'The measurement', exampleTestMeasurement),
  },
  archiveMeasurement: {
    method: 'DELETE',
    url: '/v1/measurements/:id',
    tag: 'test house',
    summary: 'Archive a measurement that was a mistake',
    description: 'It leaves the list and no longer counts; it can still be read.',
    params: byId,
    responses: { 200: { description: 'The measurement, archived', schema: testMeasurement } },
  },
} as const satisfies Record<string, Route>;
