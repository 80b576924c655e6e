import { expect, test } from 'vitest';
import { evaluate } from '../../../worker/engine/index.ts';
import { fitSurface, surfacePredictor } from '../../../worker/engine/regression/index.ts';
import { sobolPoint } from '../../../worker/engine/sampling/index.ts';
import { inputOf, SMALL_BALL } from '../inputs.ts';

const FITTED = 120;
const ASKED = 200;
const NAMES = ['mass', 'stiffness', 'cost', 'hours', 'opening'];

/** A small ball of five numbers and a choice of two materials; null: not pressed to the end. */
async function figuresAt(u: Float64Array): Promise<{ row: number[]; figures: number[] } | null> {
  const row = [60 + 30 * u[0], 2 + 2 * u[1], 6 + 6 * u[2], 1.5 + 2 * u[3], 1.5 + 1.5 * u[4], u[5] < 0.5 ? 0 : 1];
  const parameterSet = {
    ...SMALL_BALL,
    carrier: { shape: 'sphere', outsideDiameterMm: row[0] },
    layers: [
      { depthMm: 0, strutDiameterMm: row[1] },
      { depthMm: row[2], strutDiameterMm: row[3] },
    ],
    links: { pattern: 'posts', strutDiameterMm: row[4] },
  };
  const outcome = evaluate(await inputOf({ parameterSet, material: ['tpu-soft', 'tpu-firm'][row[5]], tests: { depth: 'static' } }));
  if (outcome.kind !== 'done') return null;
  const { massProperties, stiffness, cost, build, geometry } = outcome.result;
  const figures = [
    massProperties.massG,
    stiffness!.secantNPerMm!,
    cost!.totalPerPart.amount,
    build!.totalHours!,
    geometry.cellOpeningMm[0].min,
  ];
  return { row, figures };
}

test('surfaces of what the engine computes cover evaluations they have not seen as often as they claim', async () => {
  const all = [];
  for (let k = 0; all.length < FITTED + ASKED && k < 2 * (FITTED + ASKED); k++) {
    const found = await figuresAt(sobolPoint(k, 6));
    if (found) all.push(found);
  }
  expect(all).toHaveLength(FITTED + ASKED);
  const factors = [null, null, null, null, null, ['tpu-soft', 'tpu-firm']].map((choices) => ({ choices }));
  for (const [k, name] of NAMES.entries()) {
    const rows = all.map(({ row }) => row);
    const values = all.map(({ figures }) => figures[k]);
    const data = { factors, rows: rows.slice(0, FITTED), values: values.slice(0, FITTED) };
    const fit = fitSurface(data);
    const predict = surfacePredictor(data, fit);
    const asked = rows.slice(FITTED).map((row, i) => ({ ...predict(row), truth: values[FITTED + i] }));
    const hits = asked.filter(({ low, high, truth }) => low <= truth && truth <= high).length;
    // three deviations of what is counted of 200, with intervals made of 120
    const open = 3 * Math.sqrt(0.95 * 0.05 * (1 / ASKED + 1 / (FITTED + 1)));
    expect(Math.abs(hits / ASKED - 0.95), name).toBeLessThan(open);
    // not understated, but for what mean squares of heavy-tailed errors leave open
    const rmse = Math.sqrt(asked.reduce((sum, { mean, truth }) => sum + (mean - truth) ** 2, 0) / ASKED);
    expect(rmse / fit.rmse, name).toBeLessThan(1.5);
  }
});
