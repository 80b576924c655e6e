import { describe, expect, it } from 'vitest';
import { asFree, asVariation, isChosen, numbersIn, pathsOf, variedAt } from '../../api/dashboard/varied.ts';
import { batchRequest, pathRefusal, searchRequest, validate } from '../../openapi/index.ts';
import { SMALL_BALL } from '../engine/inputs.ts';

const conditions = { material: 'tpu-soft', buildVolume: 'medium-polymer', reference: 'handball-size-1' };
const paths = pathsOf(SMALL_BALL);

describe('what the forms offer to vary', () => {
  it('is every number of the set but the depth of the first layer, and what is chosen by words', () => {
    expect([...numbersIn(SMALL_BALL)].slice(0, 3)).toEqual([
      ['layers.0.strutDiameterMm', 3],
      ['layers.1.strutDiameterMm', 2.5],
      ['links.strutDiameterMm', 2],
    ]);
    expect(paths).toContain('layers.1.depthMm');
    expect(paths).not.toContain('layers.0.depthMm');
    expect(paths).toContain('tiling');
  });

  it.each(paths)('%s: allowed by the service as it is first offered', (path) => {
    expect(pathRefusal(path, SMALL_BALL, { between: !isChosen(path) })).toBeNull();
    const row = { ...variedAt(SMALL_BALL, path), step: isChosen(path) ? undefined : 2 };
    const evaluation = { ...conditions, parameterSet: SMALL_BALL };
    expect(validate(batchRequest, { evaluation, vary: [asVariation(row, 'grid')] })).toMatchObject({ ok: true });
    const free = asFree({ ...row, step: undefined });
    expect(validate(searchRequest, { ...conditions, parameterSet: SMALL_BALL, free: [free] })).toMatchObject({ ok: true });
  });

  it('cells are typed as pairs; what is no pair stays, to be refused by name', () => {
    const row = { ...variedAt(SMALL_BALL, 'tiling'), choices: ' 3,3  4,x ' };
    expect(asVariation(row, 'grid').choices).toEqual([{ m: 3, n: 3 }, '4,x']);
  });

  it('takes what is no number as it is typed, so that the rules refuse it at its field', () => {
    const row = { ...variedAt(SMALL_BALL, 'links.strutDiameterMm'), high: 'thick', step: 2 };
    const found = validate(batchRequest, { evaluation: { ...conditions, parameterSet: SMALL_BALL }, vary: [asVariation(row, 'grid')] });
    expect(found).toMatchObject({ ok: false, errors: [{ pointer: '/vary/0/to', value: 'thick' }] });
  });
});
