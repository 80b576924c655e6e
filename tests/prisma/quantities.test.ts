import { expect, test } from 'vitest';
import { QUANTITIES } from '../../openapi/index.ts';
import { columnOf, quantitiesOf } from '../../prisma/quantities.ts';
import { uuidv7 } from '../../prisma/uuid.ts';
import { sampleResult } from './samples.ts';

test('columns are the names in snake case, each once', () => {
  expect(['massG', 'stiffnessNPerMm', 'rebound.peakStrainPct', 'volumeMm3'].map((name) => columnOf(name as 'massG'))).toEqual([
    'mass_g',
    'stiffness_n_per_mm',
    'rebound_peak_strain_pct',
    'volume_mm3',
  ]);
  expect(new Set(QUANTITIES.map(columnOf)).size).toBe(QUANTITIES.length);
});

test('a number is read along its path, the least of an array, null where there is none', () => {
  const quantities = quantitiesOf({ ...sampleResult({ massG: 307 }), cost: null });
  expect(quantities).toMatchObject({ massG: 307, minCellOpeningMm: 5.5, totalPerPart: null, stiffnessNPerMm: null });
  expect(Object.keys(quantities)).toEqual(QUANTITIES);
});

test('ids are UUIDs of version 7 that sort by the millisecond they were made in', async () => {
  const first = Array.from({ length: 1000 }, uuidv7);
  await new Promise((resolve) => setTimeout(resolve, 2));
  const later = uuidv7();
  expect(new Set(first).size).toBe(1000);
  for (const id of first) {
    expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(id < later).toBe(true);
  }
});
