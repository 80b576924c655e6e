import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { frameTangent, tangentOf } from '../../../worker/engine/frame/large-frame.ts';
import { type CompressionHooks, type CompressionTest, compress } from '../../../worker/engine/impact/compression.ts';
import type { CompressionReport } from '../../../worker/engine/impact/compression-report.ts';
import { relaxationOf } from '../../../worker/engine/impact/index.ts';
import type { StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { atRest } from '../frame/placements.ts';
import { doubleShell, latticeOf } from '../lattice/samples.ts';
import { graphOf, plainFrame, turnedGraph } from './lattices.ts';

const BALL = doubleShell(2, 0, [45, 36], [4, 3.5, 3.5]);
const DIAMETER = 94;
/** One layer: small enough for dense algebra. */
const SHELL = latticeOf({ m: 1, n: 1, outsideDiameterMm: 60, layers: [{ depthMm: 0, strutDiameterMm: 3 }], orientation: 'pentagon-up' });

function pressed(graph: StrutGraph, test: Partial<CompressionTest> = {}, modulusMPa = 60, hooks: CompressionHooks = {}): CompressionReport {
  const frame = plainFrame(graph, modulusMPa);
  const whole = { outsideDiameterMm: DIAMETER, toPctOfDiameter: 6, secantAtPct: 5, ...test };
  const outcome = compress({ frame, modulusMPa, relaxation: null }, whole, hooks);
  if (outcome.kind !== 'report') throw new Error(outcome.message);
  return outcome;
}

const forces = ({ curve }: CompressionReport) => curve.map(({ forceN }) => forceN);

describe('compression between plates', () => {
  const whole = pressed(BALL.graph);

  it('starts with the stiffness of linear statics, loaded at the nodes that touch', () => {
    // So small a deflection that no other node comes near a plate.
    const report = pressed(SHELL.graph, { outsideDiameterMm: 60, toPctOfDiameter: 0.01, secantAtPct: 0.01 });
    // Rotations of 1e-4: linear within 1e-4 and the plates' own give, at most 1/500 of a strut's each.
    expect(report.initialNPerMm! / linearStiffness(SHELL.graph, 60)).toBeCloseTo(1, 2);
    expect(report.initialNPerMm! / linearStiffness(SHELL.graph, 60)).toBeLessThan(1);
  });

  it('turns into heat or motion nothing on its way: the energy is the area below the curve', () => {
    const { curve, energyMJ, snaps } = pressed(BALL.graph, { toPctOfDiameter: 8, secantAtPct: 7 });
    let area = 0;
    for (let k = 1; k < curve.length; k++) {
      area += ((curve[k].forceN + curve[k - 1].forceN) / 2) * (curve[k].deflectionMm - curve[k - 1].deflectionMm);
    }
    expect(snaps).toEqual([]);
    // Trapezoids on a curve with kinks where nodes come to touch.
    expect(Math.abs(energyMJ / area - 1)).toBeLessThan(0.01);
  });

  it('does not depend on how the part is turned about z, nor shifted', () => {
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const moved = pressed(turnedGraph(BALL.graph, ([x, y, z]) => [c * x - s * y + 20, s * x + c * y - 7, z + 300]));
    // Equilibrium is found to 1e-6 of the force.
    forces(moved).forEach((each, k) => expect(Math.abs(each - whole.curve[k].forceN)).toBeLessThan(1e-5 * whole.curve[k].forceN + 1e-9));
  });

  it('moves mirrored halves alike', () => {
    const { graph } = BALL;
    const keyOf = (xyz: Float64Array, v: number, sign: number) =>
      [xyz[3 * v], xyz[3 * v + 1], sign * xyz[3 * v + 2]].map((x) => Math.round(1e6 * x) + 0).join();
    const nodes = new Map(Array.from({ length: graph.nodeCount }, (_, v) => [keyOf(graph.xyz, v, 1), v]));
    for (let v = 0; v < graph.nodeCount; v++) {
      const twin = nodes.get(keyOf(graph.xyz, v, -1))!;
      for (const [k, sign] of [1, 1, -1].entries()) {
        // Moves of the order of 1 mm, equilibrium to 1e-6.
        expect(Math.abs(whole.deformedXyz[3 * v + k] - sign * whole.deformedXyz[3 * twin + k])).toBeLessThan(1e-4);
      }
    }
  });

  it('scales with the modulus, and with the square of size', () => {
    forces(pressed(BALL.graph, {}, 120)).forEach((each, k) => expect(each).toBeCloseTo(2 * whole.curve[k].forceN, 4));
    const twice = {
      ...BALL.graph,
      xyz: BALL.graph.xyz.map((x) => 2 * x),
      diameters: BALL.graph.diameters.map((d) => 2 * d),
      nodeRadius: BALL.graph.nodeRadius.map((r) => 2 * r),
    };
    const large = pressed(twice, { outsideDiameterMm: 2 * DIAMETER });
    forces(large).forEach((each, k) => expect(each).toBeCloseTo(4 * whole.curve[k].forceN, 4));
    expect(large.peakStrainPct).toBeCloseTo(whole.peakStrainPct, 4);
  });

  it('finds the buckling of a column whose feet stand flat, where Euler has it', () => {
    const { firstBuckling, curve } = pressed(column(), { outsideDiameterMm: 6, toPctOfDiameter: 6, secantAtPct: 3 });
    // From memory: 4 pi^2 E I / L^2 with ends that neither turn nor shift sideways; the feet give a little, and a step is at most 7 % of that load.
    const euler = (4 * Math.PI ** 2 * 60 * (Math.PI / 64) * 2 ** 4) / 60 ** 2;
    expect(firstBuckling!.forceN / euler).toBeGreaterThan(0.93);
    expect(firstBuckling!.forceN / euler).toBeLessThan(1.1);
    expect(firstBuckling!.strut).toBeLessThan(12);
    // A buckled column carries its load and no more.
    expect(curve[curve.length - 1].forceN / euler).toBeLessThan(1.1);
  });

  it('goes down through a snap and tells where it lost stability before', () => {
    const thin = latticeOf({
      m: 2,
      n: 0,
      outsideDiameterMm: 100,
      layers: [{ depthMm: 0, strutDiameterMm: 3 }],
      orientation: 'split-plane',
    });
    const { curve, snaps, firstBuckling, end, energyMJ } = pressed(thin.graph, {
      outsideDiameterMm: 100,
      toPctOfDiameter: 50,
      secantAtPct: 10,
    });
    expect(end).toBe('reached');
    const [{ deflectionMm, freedMJ }] = snaps;
    expect(firstBuckling!.deflectionMm).toBeLessThan(deflectionMm);
    const at = curve.findIndex((point) => point.deflectionMm === deflectionMm);
    expect(curve[at].forceN).toBeLessThan(curve[at - 1].forceN);
    // What the plates put in is kept or was set free: trapezoids over kinks.
    const work = curve
      .slice(1)
      .reduce((sum, b, k) => sum + ((b.forceN + curve[k].forceN) / 2) * (b.deflectionMm - curve[k].deflectionMm), 0);
    const freed = snaps.reduce((sum, each) => sum + each.freedMJ, 0);
    expect(freedMJ).toBeGreaterThan(0.02 * energyMJ);
    expect(Math.abs((energyMJ + freed) / work - 1)).toBeLessThan(0.02);
  });

  it('takes as much from a loop as the branches do', () => {
    const found = relaxationOf({ modulusMPa: 60, referenceHz: 30, lossFactor: 0.12 });
    if (found.kind === 'refused') throw new Error(found.message);
    const { relaxation } = found;
    const frame = plainFrame(BALL.graph, relaxation.longTermMPa);
    const loops = [0.001, 1, 1e9].map((speedMmS) => {
      const test = { outsideDiameterMm: DIAMETER, toPctOfDiameter: 3, secantAtPct: 2, speedMmS };
      const outcome = compress({ frame, modulusMPa: relaxation.longTermMPa, relaxation }, test);
      if (outcome.kind !== 'report') throw new Error(outcome.message);
      return outcome.loopPct!;
    });
    // Infinitely slow or fast, nothing is lost.
    expect(loops[0]).toBeGreaterThan(0);
    expect(loops[0]).toBeLessThan(0.01);
    expect(loops[1]).toBeGreaterThan(0.5);
    expect(loops[2]).toBeLessThan(0.1);
  });

  it('tells where struts meet, and that layers meet', () => {
    const report = pressed(SHELL.graph, { outsideDiameterMm: 60, toPctOfDiameter: 95, secantAtPct: 10 });
    expect(report.end).toBe('bottoms-out');
    expect(report.firstContact!.deflectionMm).toBeLessThan(0.95 * 60);
    for (const { deflectionMm, forceN } of report.curve) expect(Number.isFinite(deflectionMm + forceN)).toBe(true);
    expect(report.secantNPerMm).not.toBeNull();
  });

  it('refuses parts, and keeps the numbers so far when cancelled', () => {
    const apart = graphOf(
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 5, 0],
        [1, 5, 0],
      ],
      [
        [0, 1],
        [2, 3],
      ],
      1,
    );
    const frame = plainFrame(apart, 60);
    expect(compress({ frame, modulusMPa: 60, relaxation: null }, { outsideDiameterMm: 6, toPctOfDiameter: 1, secantAtPct: 1 }).kind).toBe(
      'disconnected',
    );
    let share = 0;
    const stopped = pressed(BALL.graph, {}, 60, { isCancelled: () => share > 0.3, onProgress: (each) => (share = each) });
    expect(stopped.end).toBe('cancelled');
    expect(stopped.curve.length).toBeGreaterThan(3);
    expect(stopped.secantNPerMm).toBeNull();
    expect(stopped.initialNPerMm).toBe(whole.initialNPerMm);
  });
});

/** A column of 12 struts with four stout arms at each end, whose tips touch the plates. */
function column(): StrutGraph {
  const height = (k: number) => 5 * k;
  const places = Array.from({ length: 13 }, (_, k) => [0, 0, height(k)]);
  const pairs: [number, number][] = Array.from({ length: 12 }, (_, k) => [k, k + 1]);
  for (const end of [0, 12]) {
    for (const [x, y] of [
      [8, 0],
      [-8, 0],
      [0, 8],
      [0, -8],
    ]) {
      places.push([x, y, height(end)]);
      pairs.push([end, places.length - 1]);
    }
  }
  const graph = graphOf(places, pairs, 8);
  graph.diameters.fill(2, 0, 24);
  return graph;
}

/** Force per approach by dense linear statics: nodes that touch held to both plates by springs far stiffer than the part, other motions free. */
function linearStiffness(graph: StrutGraph, modulusMPa: number): number {
  const { xyz, nodeCount, nodeRadius } = graph;
  const tangent = tangentOf(graph);
  frameTangent(plainFrame(graph, modulusMPa), atRest(xyz), new Float64Array(tangent.n), tangent);
  const K = Matrix.zeros(tangent.n, tangent.n);
  for (let c = 0; c < tangent.n; c++) {
    for (let p = tangent.colPtr[c]; p < tangent.colPtr[c + 1]; p++) {
      K.set(tangent.rowIdx[p], c, tangent.values[p]);
      K.set(c, tangent.rowIdx[p], tangent.values[p]);
    }
    // What neither plate nor part holds is held by next to nothing.
    K.set(c, c, K.get(c, c) + 1e-7);
  }
  const tops = Array.from({ length: nodeCount }, (_, v) => xyz[3 * v + 2] + nodeRadius[v]);
  const bottoms = Array.from({ length: nodeCount }, (_, v) => xyz[3 * v + 2] - nodeRadius[v]);
  const [high, low] = [Math.max(...tops), Math.min(...bottoms)];
  const stiff = 1e6;
  const load = Matrix.zeros(tangent.n, 1);
  const touching: number[] = [];
  for (let v = 0; v < nodeCount; v++) {
    for (const sign of [high - tops[v] < 1e-6 ? -1 : 0, bottoms[v] - low < 1e-6 ? 1 : 0]) {
      if (sign === 0) continue;
      const k = 6 * v + 2;
      K.set(k, k, K.get(k, k) + stiff);
      load.set(k, 0, (sign * stiff) / 2);
      if (sign < 0) touching.push(k);
    }
  }
  const u = solve(K, load);
  return touching.reduce((sum, k) => sum + stiff * (0.5 + u.get(k, 0)), 0);
}
