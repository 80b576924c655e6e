import { describe, expect, it } from 'vitest';
import { TRAY_STAGES, trayResult } from '../../openapi/index.ts';
import { type PlannedTray, type TrayInput, threeMf, trayOf } from '../../worker/engine/index.ts';
import { checkThreeMf } from './export/three-mf-rules.ts';
import { inputOf, SMALL_BALL } from './inputs.ts';

const { material, buildVolume } = await inputOf();
const id = (k: number) => `019abc10-0000-7000-8000-00000000000${k}`;
const ball = (outsideDiameterMm: number, m = 1) => ({
  ...SMALL_BALL,
  carrier: { shape: 'sphere' as const, outsideDiameterMm },
  tiling: { ...SMALL_BALL.tiling, m },
  layers: [SMALL_BALL.layers[0], { depthMm: 13, strutDiameterMm: 2.5 }],
});
const part = (
  k: number,
  count: number,
  parameterSet: TrayInput['parts'][number]['parameterSet'] = ball(100 + 10 * k),
  mark: number | null = k,
) => ({
  versionId: id(k),
  parameterSet,
  count,
  mark,
});
const trayWith = (parts: TrayInput['parts'], more: Partial<TrayInput> = {}) =>
  trayOf({ parts, material: { ...material, shrinkagePct: [2, 2.5, 3] }, buildVolume, ...more });

function planned(...given: Parameters<typeof trayWith>): PlannedTray {
  const outcome = trayWith(...given);
  if (outcome.kind !== 'done') throw new Error(JSON.stringify(outcome));
  return outcome;
}

describe('a tray of given versions', () => {
  const tray = planned([part(1, 2), part(2, 3)]);
  const { result } = tray;

  it('has the fields of the contract', () => {
    const whole = { engine: { version: '0', inputHash: '' }, ...result };
    expect(JSON.parse(JSON.stringify(whole))).toEqual(trayResult.parse(whole));
  });

  it('gives every part its own mark, counted in its mass, and its cost', () => {
    expect(result.fits).toBe(true);
    expect(result.parts.map(({ versionId, placed, left, mark }) => [versionId, placed, left, mark?.number])).toEqual([
      [id(1), 2, 0, 1],
      [id(2), 3, 0, 2],
    ]);
    const plain = planned([part(1, 2, undefined, null)]).result.parts[0];
    expect(plain.mark).toBeNull();
    expect(result.parts[0].massG).toBeCloseTo(plain.massG + result.parts[0].mark!.extraMassG, 9);
    const paid = result.parts.reduce((sum, { placed, totalPerPart }) => sum + placed * totalPerPart!.amount, 0);
    expect(paid).toBeCloseTo(result.cost!.total.amount, 9);
  });

  it('tells what every layer takes, which makes up its hours', () => {
    const { seconds } = tray.layers;
    const { scanHours, recoatHours, waitHours, layerCount } = result.build;
    expect(seconds).toHaveLength(layerCount);
    expect(seconds.reduce((sum, each) => sum + each, 0) / 3600).toBeCloseTo(scanHours + recoatHours + waitHours, 9);
    expect(result.layerS.min).toBe(buildVolume.minLayerS);
    expect(result.layerS.max).toBe(Math.max(...seconds));
  });

  it('stands in its 3MF as it is planned: scaled by what it shrinks, marks and all, inside the chamber', () => {
    const report = checkThreeMf(threeMf(tray.parts, {}));
    expect({ broken: report.broken, notes: report.notes }).toEqual({ broken: [], notes: [] });
    expect(report.lattices.map(({ beams }) => beams.length)).toEqual(tray.parts.map(({ graph }) => graph.strutCount));
    expect(tray.parts.map(({ graph }) => graph.roleNames.includes('mark'))).toEqual([true, true]);
    // Item by item of every part; written to a millionth.
    const placements = result.parts.flatMap(({ versionId }) => result.placements.filter((each) => each.versionId === versionId));
    const places = report.items.map(({ transform: t }) => [[t[0], t[4], t[8]], t.slice(9)]);
    expect(places).toEqual(
      placements.map(({ centreMm }) => [
        result.scale.map((factor) => expect.closeTo(factor, 5)),
        centreMm.map((at) => expect.closeTo(at, 5)),
      ]),
    );
    expect(result.scale).toEqual([1 / 0.98, 1 / 0.975, 1 / 0.97]);
  });

  it('passes its stages, and is cancelled in any', () => {
    for (const last of [...TRAY_STAGES, null]) {
      const seen: string[] = [];
      const outcome = trayOf(
        { parts: [part(1, 1)], material, buildVolume },
        { onStage: (stage) => seen.push(stage), isCancelled: () => seen.at(-1) === last },
      );
      expect(outcome.kind).toBe(last === null ? 'done' : 'cancelled');
      expect(new Set(seen)).toEqual(new Set(last === null ? TRAY_STAGES : TRAY_STAGES.slice(0, TRAY_STAGES.indexOf(last) + 1)));
    }
  });
});

describe('a tray that cannot be as it is asked for', () => {
  it('lists what finds no place, after a first copy of everything', () => {
    const { result } = planned([part(1, 30), part(2, 1)]);
    expect(result.fits).toBe(false);
    expect(result.parts[1]).toMatchObject({ placed: 1, left: 0 });
    expect(result.parts[0].left).toBe(30 - result.parts[0].placed);
    expect(result.placements).toHaveLength(result.parts[0].placed + 1);
  });

  it('is refused where nothing finds a place, naming every part and the room there is', () => {
    const outcome = trayWith([part(1, 2, ball(500)), part(2, 1, ball(450))]);
    expect(outcome).toMatchObject({
      kind: 'failed',
      error: {
        code: 'refused-tray',
        details: { left: [{ versionId: id(1), count: 2 }, { versionId: id(2) }], clearSizeMm: [280, 280, 390] },
      },
    });
  });

  it('names the version that cannot be built, or not be marked', () => {
    const crossing = {
      ...ball(100, 5),
      tiling: { ...SMALL_BALL.tiling, m: 5, n: 0 },
      layers: [{ depthMm: 0, strutDiameterMm: 6 }],
      links: { pattern: 'none' as const },
    };
    expect(trayWith([part(1, 1), part(2, 1, crossing)])).toMatchObject({
      kind: 'failed',
      error: { code: 'struts-intersect', details: { versionId: id(2) } },
    });
    const dense = {
      ...ball(100),
      tiling: { ...SMALL_BALL.tiling, m: 3, n: 3 },
      layers: [{ depthMm: 0, strutDiameterMm: 2 }],
      links: { pattern: 'none' as const },
    };
    expect(trayWith([part(3, 1, dense, 4000)])).toMatchObject({
      kind: 'failed',
      error: { code: 'no-room-for-mark', details: { versionId: id(3), number: 4000 } },
    });
  });

  it('does not tell two parts apart by one mark, nor mix currencies', () => {
    expect(trayWith([part(1, 1), part(2, 1, undefined, 1)])).toMatchObject({ kind: 'failed', error: { code: 'refused-tray' } });
    const volume = { ...buildVolume, hourlyRate: { amount: 25, currency: 'USD' } };
    expect(trayWith([part(1, 1)], { buildVolume: volume })).toMatchObject({ kind: 'failed', error: { code: 'currency-mismatch' } });
  });
});
