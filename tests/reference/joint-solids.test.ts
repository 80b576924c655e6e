import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { jointZones, linearStatics, NODE_UNKNOWNS, strutFrame } from '../../worker/engine/frame/index.ts';
import type { StrutGraph } from '../../worker/engine/lattice/index.ts';
import { graphOf } from '../engine/impact/lattices.ts';

/**
 * Joints computed as solids. Each is the union of round arms and a sphere of the largest radius at the node, arms ending in plain faces; ten-node
 * tetrahedra by gmsh 4.8 (meshes of uniform size, two sizes each), linear elasticity at E 60 MPa, assembled and factored with NumPy and SciPy (LU); a free body
 * on six statically determinate springs whose reactions vanish. On every arm but the last, unit forces along x, y, z (even traction) and unit moments
 * about them (linear traction, even shear for the twist), balanced by the same kinds of traction on the last arm. `compliance` is each load's own work,
 * f.u: 6 numbers per loaded arm, mm/N and rad/(N mm), extrapolated from the two sizes at order 1.5 (the largest extrapolation is 2.5 %, the median 1.1 %).
 * The same way gives the first and the fourth number of NINE as 0.05249 and 0.02992, 0.15 % from what three sizes of another program's mesh gave.
 */
interface Solid {
  readonly name: string;
  readonly poisson: number;
  readonly fitted: boolean;
  readonly arms: readonly { readonly direction: readonly number[]; readonly diameterMm: number; readonly lengthMm: number }[];
  readonly compliance: readonly number[];
}
const SOLIDS: readonly Solid[] = JSON.parse(readFileSync(new URL('joint-solids.json', import.meta.url), 'utf8'));
/** Struts closer together than 75 degrees: outside the model's range, and said to be so. */
const SHARP = ['X60', 'V60', 'star5'];

const THICK_POST = 'Y+thickpost';

/** Work of unit forces and moments on each arm but the last, whose end is held. */
function framed({ arms, poisson }: Solid): number[] {
  const places = [[0, 0, 0], ...arms.map(({ direction, lengthMm }) => direction.map((each) => each * lengthMm))];
  const graph = graphOf(
    places,
    arms.map((_, k) => [0, k + 1] as const),
    1,
  );
  for (const [k, { diameterMm }] of arms.entries()) graph.diameters.fill(diameterMm, 2 * k, 2 * k + 2);
  graph.nodeRadius.set([Math.max(...arms.map((arm) => arm.diameterMm)) / 2, ...arms.map((arm) => arm.diameterMm / 2)]);
  const frame = strutFrame(graph, { modulusMPa: 60, poisson }, jointZones(graph));
  const held = new Map(Array.from({ length: NODE_UNKNOWNS }, (_, k) => [NODE_UNKNOWNS * arms.length + k, 0]));
  return Array.from({ length: NODE_UNKNOWNS * (arms.length - 1) }, (_, k) => {
    const load = new Float64Array(NODE_UNKNOWNS * graph.nodeCount);
    load[NODE_UNKNOWNS + k] = 1;
    const found = linearStatics(frame, { held, load });
    if (found.kind !== 'displaced') throw new Error(found.kind);
    return found.displacement[NODE_UNKNOWNS + k];
  });
}

/** Sum over arms and axes of the work of unit forces, and of unit moments: the same for every choice of axes. */
function sums(compliance: readonly number[]): [number, number] {
  const total: [number, number] = [0, 0];
  for (const [k, each] of compliance.entries()) total[k % 6 < 3 ? 0 : 1] += each;
  return total;
}

/** Of both sums, frame over solid less one. */
function sumMisses(solid: Solid): number[] {
  const [expected, found] = [sums(solid.compliance), sums(framed(solid))];
  return [0, 1].map((k) => Math.abs(found[k] / expected[k] - 1));
}

describe('joints as solids and as frames', () => {
  const inside = SOLIDS.filter(({ name }) => !SHARP.includes(name));

  it('differ by at most 5 % in the sums of their compliances, on joints that the fit has not seen', () => {
    const kept = inside.filter(({ fitted, name }) => !fitted && name !== THICK_POST);
    expect(kept.length).toBeGreaterThanOrEqual(15);
    for (const solid of kept) for (const each of sumMisses(solid)) expect(each, solid.name).toBeLessThan(0.05);
  });

  it('differ by 6.2 % where a post is a third thicker than the arms', () => {
    const solid = SOLIDS.find(({ name }) => name === THICK_POST) as Solid;
    expect(Math.max(...sumMisses(solid))).toBeLessThan(0.063);
  });

  it('differ by at most the stated band, 9 %, in any single compliance', () => {
    for (const solid of inside)
      for (const [k, each] of framed(solid).entries())
        expect(Math.abs(solid.compliance[k] / each - 1), `${solid.name} ${k}`).toBeLessThan(0.09);
  });

  it('differ by at most the wider band, 30 %, where struts stand closer than 75 degrees', () => {
    const worst = SOLIDS.filter(({ name }) => SHARP.includes(name)).map((solid) =>
      Math.max(...framed(solid).map((each, k) => Math.abs(solid.compliance[k] / each - 1))),
    );
    expect(Math.max(...worst)).toBeLessThan(0.3);
    // The wider band is needed: without it the result would claim too much.
    expect(Math.min(...worst)).toBeGreaterThan(0.09);
  });
});

/**
 * Compliances f.u (+ m.theta) of solids computed with CalculiX and gmsh, extrapolated from mesh sizes 0.7, 0.5 and 0.35 mm (good to about 0.4 %): d 3 mm,
 * E 60 MPa, nu 0.45, at L/d 3, 5, 8. A Y of three arms of L/2 in its plane under forces along x, +1, -1/2, -1/2 N; the same under moments about y; a
 * hexagon ring of side L with radial stubs of 2 d, unit forces inward at the ends of two opposite stubs.
 */
const NINE: readonly (readonly [number, number, number, number])[] = [
  [3, 0.05242, 0.02987, 0.3823],
  [5, 0.21768, 0.05084, 1.691],
  [8, 0.8699, 0.08233, 6.95],
];

/** Work of self-balanced loads on a free body: three nodes take its rigid motion, six unknowns in all, and carry nothing. */
function work(graph: StrutGraph, held: readonly number[], loads: ReadonlyMap<number, number>, zones: boolean): number {
  const frame = strutFrame(graph, { modulusMPa: 60, poisson: 0.45 }, zones ? jointZones(graph) : undefined);
  const load = new Float64Array(NODE_UNKNOWNS * graph.nodeCount);
  for (const [k, value] of loads) load[k] = value;
  const found = linearStatics(frame, { held: new Map(held.map((k) => [k, 0])), load });
  if (found.kind !== 'displaced') throw new Error(found.kind);
  return load.reduce((sum, each, k) => sum + each * found.displacement[k], 0);
}

const turned = (degrees: number, radius: number) => [
  radius * Math.cos((degrees * Math.PI) / 180),
  radius * Math.sin((degrees * Math.PI) / 180),
  0,
];
const CENTRE = [0, 1, 2, 3, 4, 5];

function threeCases(slenderness: number, zones: boolean): number[] {
  const L = 3 * slenderness;
  const y = graphOf(
    [[0, 0, 0], ...[0, 120, 240].map((each) => turned(each, L / 2))],
    [
      [0, 1],
      [0, 2],
      [0, 3],
    ],
    3,
  );
  const ring = graphOf(
    [...[0, 60, 120, 180, 240, 300].map((each) => turned(each, L)), ...[0, 60, 120, 180, 240, 300].map((each) => turned(each, L + 6))],
    [0, 1, 2, 3, 4, 5].flatMap((k) => [[k, (k + 1) % 6] as const, [k, k + 6] as const]),
    3,
  );
  return [
    work(
      y,
      CENTRE,
      new Map([
        [6, 1],
        [12, -0.5],
        [18, -0.5],
      ]),
      zones,
    ),
    work(
      y,
      CENTRE,
      new Map([
        [10, 1],
        [16, -0.5],
        [22, -0.5],
      ]),
      zones,
    ),
    work(
      ring,
      CENTRE,
      new Map([
        [36, -1],
        [54, 1],
      ]),
      zones,
    ),
  ];
}

describe('the nine compliances of Y joints and hexagon rings', () => {
  it.each(NINE)('at L/d %i are met within 4 %%', (slenderness, ...solid) => {
    for (const [k, each] of threeCases(slenderness, true).entries()) expect(Math.abs(solid[k] / each - 1)).toBeLessThan(0.04);
  });

  it('are missed by up to 28 % by the plain frame', () => {
    const plain = threeCases(3, false).map((each, k) => Math.round(100 * (NINE[0][k + 1] / each - 1)));
    expect(plain).toEqual([-28, -5, -20]);
  });
});
