import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { newBoard } from '../../worker/engine-board.ts';
import runEngine from '../../worker/engine-thread.ts';
import { SMALL_BALL } from '../engine/inputs.ts';
import { openSite, type Person, type Site } from './site.ts';

let site: Site;
let coach: Person;
let versionIds: string[];
let serials: string[];

/** A design of two versions, three prints of the first, weighed and measured: heavier and larger than designed. */
beforeAll(async () => {
  site = await openSite();
  coach = await site.person();
  const design = (await site.call(coach, 'POST', '/v1/designs', { body: { name: 'League ball' } })).body;
  versionIds = [];
  for (const strutDiameterMm of [3, 3.3]) {
    const parameterSet = { ...SMALL_BALL, layers: [{ depthMm: 0, strutDiameterMm }, SMALL_BALL.layers[1]] };
    versionIds.push((await site.call(coach, 'POST', `/v1/designs/${design.id}/versions`, { body: { parameterSet } })).body.id);
  }
  serials = [1, 2, 3].map((k) => `CAL-${k}`);
  const prints = {
    ...{ versionId: versionIds[0], material: 'tpu-soft', buildVolume: 'medium-polymer', lot: { name: 'A' }, build: 'first' },
    ...{ printedOn: '2027-03-01', finishing: [{ kind: 'cleaning' }], copies: serials.map((serial) => ({ serial })) },
  };
  expect((await site.call(coach, 'POST', '/v1/prints', { body: prints })).status).toBe(201);
});
afterAll(() => site.close());

const post = (more: object = {}, headers: Record<string, string> = {}) =>
  site.call(coach, 'POST', '/v1/calibrations', { body: { material: 'tpu-soft', ...more }, headers });
const get = async (id: string) => (await site.call(coach, 'GET', `/v1/calibrations/${id}`)).body;
const weigh = async (masses: readonly number[]) => {
  for (const [k, mass] of masses.entries()) {
    const body = {
      kind: 'mass',
      unit: 'g',
      values: [mass],
      serial: serials[k],
      measuredAt: `2027-03-02T09:0${k}:00Z`,
      instrument: 'scale',
    };
    expect((await site.call(coach, 'POST', '/v1/measurements', { body })).status).toBe(201);
  }
};

/** Does what a worker does. */
async function work(id: string): Promise<void> {
  const claim = (await site.records.computations.claim(id, 'a test'))!;
  const answer = await runEngine({ ...claim, board: newBoard() });
  if (answer.kind !== 'done') throw new Error(JSON.stringify(answer));
  await site.records.computations.finish(id, answer);
}

describe('a calibration', () => {
  test('needs something that was measured', async () => {
    const { status, body } = await post({ build: 'another' });
    expect(status).toBe(422);
    expect(body.errors[0]).toMatchObject({ pointer: '/material', value: 'tpu-soft' });
    expect(body.errors[0].detail).toMatch(/0 measurements/);
  });

  test('learns from prints, says what it does not know, advises the next print, and leaves a material that evaluations take', async () => {
    await weigh([50, 50.4, 49.7]);
    const targets = [{ quantity: 'massG', min: 30, max: 60 }];
    const asking = { finishing: 'cleaning', candidates: versionIds, targets };
    const key = { 'idempotency-key': randomUUID() };
    const accepted = await post(asking, key);
    expect(accepted.status).toBe(202);
    expect((await post(asking, key)).text).toBe(accepted.text);
    expect(accepted.headers.location).toBe(`/v1/calibrations/${accepted.body.id}`);
    expect(accepted.body.input.observations).toHaveLength(3);
    const early = await site.call(coach, 'POST', `/v1/calibrations/${accepted.body.id}/material`, { body: { key: 'early' } });
    expect(early.body.code).toBe('not-finished');
    await work(accepted.body.id);

    const { status, result } = await get(accepted.body.id);
    expect(status).toBe('done');
    const told = Object.fromEntries(result.estimates.map((each: { unknown: string; told: string }) => [each.unknown, each.told]));
    expect(told).toMatchObject({ modulusFactor: 'not-told', lossFactorFactor: 'not-told' });
    expect(result.identifiability.sentences.join(' ')).toMatch(/next to nothing of the modulus/);
    const { items } = result.residuals;
    // what is predicted lies closer to what was weighed than what was designed
    for (const { measured, predicted, asDesigned } of items)
      expect(Math.abs(predicted - measured)).toBeLessThan(Math.abs(asDesigned - measured));
    expect(versionIds).toContain(result.nextPrint.advised);
    expect(result.nextPrint.reasons.length).toBeGreaterThan(1);

    const adopt = () =>
      site.call(coach, 'POST', `/v1/calibrations/${accepted.body.id}/material`, { body: { key: 'league-print' }, headers: key });
    const adopted = await adopt();
    expect(adopted.status).toBe(201);
    // sent again with its key it makes no second revision
    expect((await adopt()).text).toBe(adopted.text);
    expect(adopted.body).toMatchObject({ key: 'league-print', revision: 1, calibration: { calibrationId: accepted.body.id } });
    const asked = { versionId: versionIds[0], material: 'league-print', buildVolume: 'medium-polymer' };
    const evaluation = (await site.call(coach, 'POST', '/v1/evaluations', { body: asked })).body;
    const row = await site.records.evaluations.get(coach.teamId, evaluation.id);
    await work(row!.computationId);
    const found = (await site.call(coach, 'GET', `/v1/evaluations/${evaluation.id}`)).body.result;
    const spread = found.calibrated.find((each: { quantity: string }) => each.quantity === 'massProperties.massG');
    expect(spread.value).toBe(found.massProperties.massG);
    expect(spread.low).toBeLessThan(spread.value);
    expect(spread.high).toBeGreaterThan(spread.value);
    // the responses are a parabola through the engine, so the evaluation weighs what the calibration predicted
    expect(spread.value / items[0].predicted).toBeCloseTo(1, 2);
  });

  test('notes of how many observations the record was calibrated already', async () => {
    const { key: _, revision: __, builtIn: ___, ...values } = (await site.call(coach, 'GET', '/v1/materials/tpu-soft')).body;
    const keep = (calibration: object | null) =>
      site.call(coach, 'POST', '/v1/materials', { body: { ...values, key: 'league-twice', calibration } });
    const printed = async (serial: string) => {
      const body = {
        ...{ versionId: versionIds[0], material: 'league-twice', buildVolume: 'medium-polymer', lot: { name: 'A' }, build: 'second' },
        ...{ printedOn: '2027-03-04', copies: [{ serial }] },
      };
      expect((await site.call(coach, 'POST', '/v1/prints', { body })).status).toBe(201);
      const mass = { kind: 'mass', unit: 'g', values: [51], serial, measuredAt: '2027-03-05T09:00:00Z' };
      expect((await site.call(coach, 'POST', '/v1/measurements', { body: mass })).status).toBe(201);
    };
    expect((await keep(null)).status).toBe(201);
    await printed('CAL-8');
    const first = (await post({ material: 'league-twice' })).body;
    expect(first.input).not.toHaveProperty('usedBefore');
    // as adopting it does
    expect((await keep({ calibrationId: first.id, spreadPct: [] })).status).toBe(201);
    await printed('CAL-9');
    const { input } = (await post({ material: 'league-twice' })).body;
    expect([input.usedBefore, input.observations.length]).toEqual([1, 2]);
  });

  test('names candidates and materials that are not known', async () => {
    const unknown = await post({ candidates: [randomUUID()] });
    expect(unknown.body.errors[0]).toMatchObject({ pointer: '/candidates/0' });
    expect((await post({ material: 'no-such' })).body.errors[0]).toMatchObject({ pointer: '/material', value: 'no-such' });
    expect((await site.call(coach, 'GET', `/v1/calibrations/${randomUUID()}`)).status).toBe(404);
  });

  test('belongs to its team', async () => {
    const { items } = (await site.call(coach, 'GET', '/v1/calibrations')).body;
    expect(items.length).toBeGreaterThan(0);
    const other = await site.person();
    expect((await site.call(other, 'GET', `/v1/calibrations/${items[0].id}`)).status).toBe(404);
    expect((await site.call(other, 'GET', '/v1/calibrations')).body.items).toEqual([]);
  });
});
