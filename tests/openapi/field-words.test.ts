import { expect, it } from 'vitest';
import { axisWords, label, QUANTITIES } from '../../openapi/index.ts';

it.each([
  ['stiffnessNPerMm', 'stiffness', 'N/mm'],
  ['rebound.peakForceN', 'peak force', 'N'],
  ['material.densityGCm3', 'density', 'g/cm³'],
  ['massProperties.principalInertiaGMm2.0', 'principal inertia 1', 'g mm²'],
  ['restitution', 'restitution', ''],
])('%s is %s in %s', (field, name, unit) => expect(label(field)).toEqual({ name, unit }));

it('names a quantity alike by its short name and by its path, and no two quantities alike', () => {
  expect(axisWords('massG')).toBe('mass, g');
  expect(axisWords('massProperties.massG')).toBe('mass, g');
  expect(axisWords('rebound.reboundHeightMm.mean')).toBe('rebound height, mm');
  const names = QUANTITIES.map(axisWords);
  expect(new Set(names).size).toBe(names.length);
});
