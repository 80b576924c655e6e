import { describe, expect, it } from 'vitest';
import { buildLattice, type ParameterSet, type StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { arrange, compareOrientations, type OrientationComparison, type TurnedPart } from '../../../worker/engine/print/index.ts';
import { slice, unionSurface } from '../../../worker/engine/solid/index.ts';
import { goldberg, type Orientation, orient } from '../../../worker/engine/tiling/index.ts';
import { graphOf, MATERIAL, type Point, VOLUME } from './samples.ts';

const DIAMETER = 100;
const FULL = arrange(DIAMETER, MATERIAL, VOLUME);

function comparisonOf(parts: readonly TurnedPart[], arrangement = FULL, volume = VOLUME): OrientationComparison {
  const outcome = compareOrientations(parts, arrangement, 50, MATERIAL, volume);
  if (outcome.kind !== 'done') throw new Error(outcome.fault.message);
  return outcome.comparison;
}

/** Struts from the origin, each with its direction and length. */
const star = (...tips: Point[]): StrutGraph =>
  graphOf(
    [[0, 0, 0], ...tips],
    tips.map((_, k) => [0, k + 1, 2]),
  );
const profileOf = (areas: number[]) => ({
  layerMm: 0.1,
  zMinMm: 0,
  areaMm2: Float64Array.from(areas),
  contourMm: new Float64Array(areas.length),
});
const part = (orientation: string, graph = star([10, 0, 0]), areas = [10, 10]): TurnedPart => ({
  orientation,
  graph,
  profile: profileOf(areas),
});

describe('ways up compared', () => {
  it('step the sides of a strut by the mean vertical part of their normals (added up round the strut as the second route)', () => {
    for (const degrees of [0, 20, 45, 70, 90]) {
      const tilt = (degrees * Math.PI) / 180;
      const [figures] = comparisonOf([part('x', star([10 * Math.cos(tilt), 0, 10 * Math.sin(tilt)]))]).figures;
      const steps = 2000;
      let mean = 0;
      // Normals turn in the plane of the level direction y and the strut's upper side.
      for (let k = 0; k < steps; k++) mean += Math.abs(Math.sin((2 * Math.PI * (k + 0.5)) / steps) * Math.cos(tilt)) / steps;
      // Midpoint steps of a curve with two kinks: 1 / steps^2.
      expect(figures.meanStairStepMm).toBeCloseTo(VOLUME.layerMm * mean, 6);
    }
  });

  it('weigh the steps by surface, on the outer layer only', () => {
    const graph = star([0, 0, 10], [0, 30, 0], [50, 0, 0]);
    const inner = { ...graph, roles: Int32Array.from([0, 0, 1]), roleNames: ['layer-0', 'link'] };
    const [figures] = comparisonOf([part('x', inner)]).figures;
    expect(figures.meanStairStepMm).toBeCloseTo((VOLUME.layerMm * (2 / Math.PI) * 30) / 40, 12);
    const thick = { ...inner, diameters: Float64Array.from([2, 2, 6, 6, 2, 2]) };
    expect(comparisonOf([part('x', thick)]).figures[0].meanStairStepMm).toBeCloseTo((VOLUME.layerMm * (2 / Math.PI) * 90) / 100, 12);
  });

  it('find the longest level strut and the share that stands upright', () => {
    const at = (degrees: number, length: number): Point => [
      length * Math.cos((degrees * Math.PI) / 180),
      0,
      length * Math.sin((degrees * Math.PI) / 180),
    ];
    const [figures] = comparisonOf([part('x', star(at(9, 12), at(11, 30), at(-59, 10), at(-61, 8), at(90, 40)))]).figures;
    expect(figures.longestLevelStrutMm).toBeCloseTo(12, 9);
    expect(figures.uprightSharePct).toBeCloseTo((100 * 48) / 100, 9);
    expect(comparisonOf([part('x', star([0, 0, 5]))]).figures[0].longestLevelStrutMm).toBe(0);
  });

  it('choose the least cost, the least steps, the least jump, and say how much is at stake', () => {
    const [level, upright] = [star([10, 0, 0]), star([6, 0, 8])];
    const comparison = comparisonOf([
      part('low', level, [100, 100, 100]),
      part('round', upright, [80, 160, 80, 80]),
      part('safe', level, [50, 100, 150, 100, 50, 10]),
    ]);
    expect(comparison.figures.map(({ largestLayerAreaJumpMm2 }) => largestLayerAreaJumpMm2)).toEqual([100, 80, 50]);
    expect(comparison.figures.map(({ largestLayerAreaMm2 }) => largestLayerAreaMm2)).toEqual([100, 160, 150]);
    expect(comparison.safest).toEqual({ orientation: 'safe', spreadPct: expect.closeTo(50, 9) });
    expect(comparison.roundest).toEqual({ orientation: 'round', spreadPct: expect.closeTo(100 * (1 - 0.6), 9) });
    const costs = comparison.figures.map(({ totalPerPart }) => totalPerPart!.amount);
    expect(costs[0]).toBe(Math.min(...costs));
    expect(comparison.cheapest).toEqual({
      orientation: 'low',
      spreadPct: expect.closeTo(100 * (1 - costs[0] / Math.max(...costs)), 9),
    });
  });

  it('cost nothing where no part fits, and do not add two currencies', () => {
    const none = comparisonOf([part('x')], arrange(500, MATERIAL, VOLUME));
    expect(none.cheapest).toBeNull();
    expect(none.figures[0].totalPerPart).toBeNull();
    const volume = { ...VOLUME, hourlyRate: { amount: 25, currency: 'CHF' } };
    expect(compareOrientations([part('x')], FULL, 50, MATERIAL, volume)).toMatchObject({
      kind: 'fault',
      fault: { code: 'currency-mismatch' },
    });
  });

  it('of a ball differ little in cost and steps, and show where layers are nearly level', () => {
    const set = (orientation: Orientation): ParameterSet => ({
      carrier: { shape: 'sphere', outsideDiameterMm: DIAMETER },
      tiling: { kind: 'goldberg', m: 3, n: 0, relaxation: 'none', orientation },
      layers: [{ depthMm: 0, strutDiameterMm: 3 }],
      links: { pattern: 'none' },
    });
    const parts = (['split-plane', 'pentagon-up', 'hexagon-up'] as const).map((orientation): TurnedPart => {
      const lattice = buildLattice(set(orientation), orient(goldberg(3, 0), orientation));
      if ('refused' in lattice) throw new Error(lattice.message);
      return { orientation, graph: lattice.graph, profile: slice(lattice.graph, unionSurface(lattice.graph), lattice.symmetry, 0.5) };
    });
    const { figures, cheapest } = comparisonOf(parts);
    // On a sphere all directions are alike in the mean, where |cos| is 1/2; a tiling of 92 cells is a sphere to a few percent.
    for (const { meanStairStepMm } of figures) expect(meanStairStepMm / (VOLUME.layerMm / 2)).toBeCloseTo(1, 1);
    expect(cheapest!.spreadPct).toBeLessThan(5);
    expect(new Set(figures.map(({ largestLayerAreaJumpMm2 }) => largestLayerAreaJumpMm2.toFixed(3))).size).toBe(3);
  });
});
