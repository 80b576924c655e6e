import { describe, expect, it } from 'vitest';
import { arrange, buildCost, buildTime, planTray, type TrayPart, type TrayPlan } from '../../../worker/engine/print/index.ts';
import type { LayerProfile } from '../../../worker/engine/solid/index.ts';
import { MATERIAL, VOLUME } from './samples.ts';

/** A part of one section over its whole height. */
const prism = (heightMm: number, areaMm2: number, layerMm = 0.1): LayerProfile => {
  const count = Math.round(heightMm / layerMm);
  return {
    layerMm,
    zMinMm: -heightMm / 2,
    areaMm2: new Float64Array(count).fill(areaMm2),
    contourMm: new Float64Array(count).fill(3 * areaMm2),
  };
};

const part = (id: string, outsideDiameterMm: number, count: number, areaMm2 = 100): TrayPart => ({
  id,
  markedName: `mark ${id}`,
  count,
  outsideDiameterMm,
  massG: (outsideDiameterMm * areaMm2) / 1000,
  profile: prism(outsideDiameterMm, areaMm2),
});

const ROUND = { ...VOLUME, sizeMm: [600, 600, 500] as const };
/** Cost per part sums sections in another order than the mass was made. */
const ROUNDING = 1e-9;

function planOf(parts: readonly TrayPart[], volume = VOLUME, material = MATERIAL): TrayPlan {
  const outcome = planTray(parts, volume, material);
  if (outcome.kind !== 'done') throw new Error(outcome.fault.message);
  return outcome.tray;
}

/** Independent route: every pair and every wall of the chamber. */
function expectApartAndInside({ placements }: TrayPlan, volume = VOLUME): void {
  placements.forEach(({ centreMm, diameterMm }, i) => {
    centreMm.forEach((at, axis) => {
      const margin = axis === 2 ? volume.coverMm : volume.wallMarginMm;
      expect(at - diameterMm / 2).toBeGreaterThanOrEqual(margin - 1e-6);
      expect(at + diameterMm / 2).toBeLessThanOrEqual(volume.sizeMm[axis] - margin + 1e-6);
    });
    for (const other of placements.slice(0, i)) {
      const distance = Math.hypot(...centreMm.map((at, axis) => at - other.centreMm[axis]));
      expect(distance).toBeGreaterThanOrEqual((diameterMm + other.diameterMm) / 2 + volume.partSpacingMm - 1e-6);
    }
  });
}

describe('tray of mixed parts', () => {
  const four = [part('a', 162.3, 3), part('b', 160, 2), part('c', 150, 3, 120), part('d', 110, 4, 80)];

  it('places every copy apart and inside, and lists each by its mark', () => {
    const tray = planOf(four, ROUND, { ...MATERIAL, shrinkagePct: [2.5, 2.5, 3] });
    expect(tray.fits).toBe(true);
    expectApartAndInside(tray, ROUND);
    for (const { id, markedName, count, outsideDiameterMm } of four) {
      const mine = tray.placements.filter((each) => each.id === id);
      expect(mine).toHaveLength(count);
      for (const each of mine) expect(each).toMatchObject({ markedName, diameterMm: expect.closeTo(outsideDiameterMm / 0.97, 9) });
    }
    expect(tray.leastGapMm).toBeGreaterThanOrEqual(5 - 1e-6);
    expect(tray.build.partsPerBuild).toBe(12);
  });

  it('builds the layers of all parts: time and volume as those of each part at its place, added by hand', () => {
    const tray = planOf(four, ROUND);
    const { layerMm, recoatS, minLayerS, scanSpeedMmS, contourSpeedMmS, hatchMm, coverMm } = ROUND;
    const edges = tray.placements.map(({ id, centreMm }) => {
      const { outsideDiameterMm, profile } = four.find((each) => each.id === id)!;
      return { from: centreMm[2] - outsideDiameterMm / 2, to: centreMm[2] + outsideDiameterMm / 2, area: profile.areaMm2[0] };
    });
    const count = Math.ceil((Math.max(...edges.map(({ to }) => to)) + coverMm) / layerMm - 1e-6);
    let seconds = 0;
    for (let layer = 0; layer < count; layer++) {
      const overlap = ({ from, to }: { from: number; to: number }) =>
        Math.max(0, Math.min(to, (layer + 1) * layerMm) - Math.max(from, layer * layerMm)) / layerMm;
      const area = edges.reduce((sum, each) => sum + each.area * overlap(each), 0);
      seconds += Math.max(minLayerS, recoatS + area / (hatchMm * scanSpeedMmS) + (3 * area) / contourSpeedMmS);
    }
    expect(tray.build.layerCount).toBe(count);
    // Cool-down is as long as the layers here.
    expect(tray.build.totalHours).toBeCloseTo(2 + (2 * seconds) / 3600, 6);
  });

  it('shares the cost by sintered volume, to the last cent', () => {
    const { parts, cost } = planOf(four, ROUND);
    const total = parts.reduce((sum, { placed, totalPerPart }) => sum + placed * totalPerPart!.amount, 0);
    expect(total).toBeCloseTo(cost!.total.amount, 6);
    expect(cost!.total.amount).toBeCloseTo(cost!.powderCost.amount + cost!.machineCost.amount, 9);
    const perVolume = parts.map(({ totalPerPart, sinteredVolumeMm3 }) => totalPerPart!.amount / sinteredVolumeMm3);
    for (const each of perVolume) expect(each / perVolume[0]).toBeCloseTo(1, 9);
    expect(parts[2].sinteredVolumeMm3).toBeCloseTo(150 * 120, 6);
    expect(cost!.assumptions[0]).toContain('sintered volume');
  });

  it('of one kind is the full build that arrange, buildTime and buildCost give', () => {
    const ball = part('a', 67, 1);
    const full = arrange(67, MATERIAL, VOLUME);
    const tray = planOf([{ ...ball, count: full.count }]);
    const build = buildTime(ball.profile, full, MATERIAL, VOLUME);
    const outcome = buildCost(build, ball.massG, MATERIAL, VOLUME);
    expect(tray.fits).toBe(true);
    expect(tray.build.heightMm).toBeCloseTo(build.heightMm, 9);
    expect(tray.build.totalHours / build.totalHours).toBeCloseTo(1, 9);
    const each = outcome.kind === 'done' ? outcome.cost!.totalPerPart.amount : Number.NaN;
    expect(Math.abs(tray.parts[0].totalPerPart!.amount / each - 1)).toBeLessThan(ROUNDING);
  });

  it('where not all fit, gives every part a first copy before any gets a second, and lists the rest', () => {
    const tray = planOf([part('a', 162.3, 3), part('b', 160, 3), part('c', 150, 3)]);
    expectApartAndInside(tray);
    expect(tray.fits).toBe(false);
    expect(tray.parts.every(({ placed }) => placed >= 1)).toBe(true);
    for (const { count, placed, left } of tray.parts) expect(placed + left).toBe(count);
    expect(tray.placements).toHaveLength(tray.parts.reduce((sum, { placed }) => sum + placed, 0));
  });

  it('lists a part larger than the chamber, and costs nothing when there is no other', () => {
    const tray = planOf([part('a', 500, 1), part('b', 100, 1)]);
    expect(tray.parts.map(({ placed, left }) => [placed, left])).toEqual([
      [0, 1],
      [1, 0],
    ]);
    expect(tray.parts[0].totalPerPart).toBeNull();
    expect(tray.leastGapMm).toBeNull();
    const none = planOf([part('a', 500, 2)]);
    expect(none).toMatchObject({ fits: false, placements: [], cost: null, build: { fits: false, totalHours: 0, layerCount: 0 } });
  });

  it('does not mix up two parts with one mark, nor take what it cannot plan', () => {
    const refusal = (parts: TrayPart[]) => {
      const outcome = planTray(parts, VOLUME, MATERIAL);
      return outcome.kind === 'fault' ? outcome.fault : null;
    };
    const [a, b] = [part('a', 50, 1), part('b', 50, 1)];
    expect(refusal([a, { ...b, markedName: a.markedName }])).toMatchObject({
      code: 'refused-tray',
      details: { field: 'parts/1/markedName', value: 'mark a' },
    });
    expect(refusal([a, { ...b, id: 'a' }])).toMatchObject({ details: { field: 'parts/1/id', value: 'a' } });
    expect(refusal([a, { ...b, count: 0 }])).toMatchObject({ details: { field: 'parts/1/count', value: 0 } });
    expect(refusal([{ ...a, count: 1.5 }])).toMatchObject({ details: { field: 'parts/0/count', value: 1.5 } });
    expect(refusal([])?.message).toContain('1 to 24 different parts');
    expect(refusal([{ ...a, count: 241 }])?.message).toContain('241 copies');
    const rate = { ...VOLUME, hourlyRate: { amount: 25, currency: 'CHF' } };
    expect(planTray([a], rate, MATERIAL)).toMatchObject({ kind: 'fault', fault: { code: 'currency-mismatch' } });
  });

  it('takes well under two seconds: twelve balls of four versions, and sixty small parts of five', () => {
    const small = [30, 36, 40, 44, 50].map((diameter, i) => part(`${i}`, diameter, 12, 60));
    for (const [parts, volume] of [[four, ROUND] as const, [small, VOLUME] as const]) {
      const start = performance.now();
      expect(planOf(parts, volume).fits).toBe(true);
      expect(performance.now() - start).toBeLessThan(2000);
    }
  });
});
