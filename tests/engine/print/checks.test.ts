import { describe, expect, it } from 'vitest';
import type { Lattice } from '../../../worker/engine/lattice/index.ts';
import { type CheckInput, clearOpenings, powderEscape, printability, smallestGap } from '../../../worker/engine/print/index.ts';
import { joints } from '../../../worker/engine/print/joints.ts';
import { CUBE, cageLattice, DODECAHEDRON, graphOf, MATERIAL, type Point, VOLUME } from './samples.ts';

const IDS = [
  'min-strut-diameter',
  'min-gap',
  'escape-opening',
  'strut-slenderness',
  'joint-crowding',
  'finger-entrapment',
  'finger-entrapment-deformed',
  'small-part',
  'fits-build-volume',
  'layer-area-jump',
  'orientation-effect',
  'peak-force',
  'bounce-strain',
  'buckling',
];

function inputOf(lattice: Lattice, change: Partial<CheckInput> = {}): CheckInput {
  const material = change.material ?? MATERIAL;
  const gap = smallestGap(lattice.graph, lattice.symmetry, material.minGapMm ?? 0);
  if (gap.kind !== 'clear') throw new Error(gap.fault.message);
  const openings = clearOpenings(lattice);
  const wayOut = powderEscape(lattice, openings);
  return {
    lattice,
    outsideDiameterMm: 120,
    material,
    volume: VOLUME,
    gap,
    openings,
    wayOut,
    profile: null,
    originalPeakForceN: null,
    ...change,
  };
}

const checkOf = (input: CheckInput, id: string) => printability(input).checks.find((check) => check.id === id)!;
const withMaterial = (change: object) => ({ material: { ...MATERIAL, ...change } });

/** Two dodecahedra with posts: sides of about 37 and 27 mm, openings of about 48 and 35 mm. */
const shell = cageLattice(DODECAHEDRON, { scales: [30, 22], diameters: [3, 2.5], postDiameter: 2.5 });

describe('printability checks', () => {
  it('come in a stable order, all of them every time', () => {
    expect(printability(inputOf(shell)).checks.map(({ id }) => id)).toEqual(IDS);
    const bare = withMaterial({ minStrutMm: null, minGapMm: null, minOpeningMm: null });
    expect(printability(inputOf(cageLattice(CUBE, { scales: [10], diameters: [2] }), bare)).checks.map(({ id }) => id)).toEqual(IDS);
  });

  it('never pass without their data: the status is not-checked, with a caution', () => {
    const input = inputOf(shell, withMaterial({ minStrutMm: null, minGapMm: null, minOpeningMm: null }));
    for (const id of [
      'min-strut-diameter',
      'min-gap',
      'escape-opening',
      'layer-area-jump',
      'orientation-effect',
      'peak-force',
      'small-part',
      'finger-entrapment-deformed',
      'bounce-strain',
      'buckling',
    ]) {
      const check = checkOf(input, id);
      expect(check).toMatchObject({ status: 'not-checked', limit: null });
      expect(check.message.length).toBeGreaterThan(40);
    }
    expect(checkOf(inputOf(shell, { originalPeakForceN: 850 }), 'peak-force')).toMatchObject({
      status: 'not-checked',
      message: expect.stringContaining('850 N'),
    });
  });

  it('give the worst status as the verdict', () => {
    expect(printability(inputOf(shell)).verdict).toBe('pass');
    expect(printability(inputOf(shell, withMaterial({ minStrutMm: 2 }))).verdict).toBe('warn');
    expect(printability(inputOf(shell, withMaterial({ minStrutMm: 2.6 }))).verdict).toBe('fail');
    const both = printability(inputOf(shell, { ...withMaterial({ minStrutMm: 2.6 }), outsideDiameterMm: 40 }));
    expect(both.checks.some(({ status }) => status === 'warn')).toBe(true);
    expect(both.verdict).toBe('fail');
  });

  it('show at most fifty places', () => {
    const everything = inputOf(shell, withMaterial({ minStrutMm: 50, minGapMm: 50, minOpeningMm: 90 }));
    for (const { where } of printability(everything).checks) expect(where.length).toBeLessThanOrEqual(50);
    expect(checkOf(everything, 'min-strut-diameter').where).toHaveLength(50);
  });
});

describe('limits of the material', () => {
  it('on struts: fail below, warn below what is advised, pass at it', () => {
    const status = (minStrutMm: number) => checkOf(inputOf(shell, withMaterial({ minStrutMm })), 'min-strut-diameter').status;
    expect(status(2.5001)).toBe('fail');
    expect(status(2.5)).toBe('warn');
    expect(status(2.5 / 1.5)).toBe('pass');
    const failed = checkOf(inputOf(shell, withMaterial({ minStrutMm: 2.7 })), 'min-strut-diameter');
    expect(failed).toMatchObject({
      value: 2.5,
      limit: 2.7,
      unit: 'mm',
      message: 'The thinnest strut is 2.5 mm; the material needs at least 2.7 mm.',
    });
    // The 30 struts of the inner layer and the 20 posts; the posts have no layer.
    expect(failed.where).toHaveLength(50);
    expect(failed.where[0]).toEqual({ kind: 'strut', index: 30, layer: 1 });
    expect(failed.where[49]).toEqual({ kind: 'strut', index: 79 });
  });

  it('on struts: the thinner end counts, and the thinnest strut comes first', () => {
    const cage = cageLattice(CUBE, { scales: [10], diameters: [2] });
    const diameters = cage.graph.diameters.slice();
    diameters[2 * 7 + 1] = 0.7;
    diameters[2 * 3] = 0.9;
    const input = { ...inputOf(cage), lattice: { ...cage, graph: { ...cage.graph, diameters } } };
    expect(checkOf(input, 'min-strut-diameter')).toMatchObject({
      status: 'fail',
      value: 0.7,
      where: [
        { kind: 'strut', index: 7, layer: 0 },
        { kind: 'strut', index: 3, layer: 0 },
      ],
    });
  });

  it('on gaps: the pair that is closest', () => {
    const cage = cageLattice(CUBE, { scales: [10], diameters: [2] });
    expect(checkOf(inputOf(cage, withMaterial({ minGapMm: 18 })), 'min-gap')).toMatchObject({ status: 'pass', value: 18 });
    const failed = checkOf(inputOf(cage, withMaterial({ minGapMm: 18.1 })), 'min-gap');
    expect(failed).toMatchObject({ status: 'fail', value: 18, limit: 18.1 });
    expect(failed.where).toHaveLength(12);
  });

  it('on openings: the windows that hold the powder back', () => {
    const cage = cageLattice(CUBE, { scales: [10], diameters: [2] });
    const status = (minOpeningMm: number) => checkOf(inputOf(cage, withMaterial({ minOpeningMm })), 'escape-opening');
    expect(status(12)).toMatchObject({ status: 'pass', where: [] });
    expect(status(17)).toMatchObject({ status: 'warn', limit: 17 });
    expect(status(18.5)).toMatchObject({ status: 'fail', limit: 18.5 });
    expect(status(18.5).where[0]).toMatchObject({ kind: 'cell', layer: 0 });
  });
});

describe('struts and joints', () => {
  it('warn where struts are stubby or slender', () => {
    const cage = (d: number) => checkOf(inputOf(cageLattice(CUBE, { scales: [10], diameters: [d] })), 'strut-slenderness');
    expect(cage(4)).toMatchObject({ status: 'pass', value: 5, limit: 2 });
    expect(cage(10)).toMatchObject({ status: 'pass', value: 2 });
    expect(cage(10.5)).toMatchObject({ status: 'warn', limit: 2 });
    expect(cage(10.5).where).toHaveLength(12);
    expect(cage(0.9)).toMatchObject({ status: 'warn', limit: 20 });
  });

  it('warn where struts meet at a sharp angle', () => {
    const fork = (degrees: number) => {
      const [c, s] = [20 * Math.cos((degrees * Math.PI) / 180), 20 * Math.sin((degrees * Math.PI) / 180)];
      const cage = cageLattice(CUBE, { scales: [10], diameters: [1] });
      const graph = graphOf(
        [
          [0, 0, 0],
          [20, 0, 0],
          [c, s, 0],
        ],
        [
          [0, 1, 1],
          [0, 2, 1],
        ],
      );
      // Two struts of no cell: neither is a span.
      const fork = { ...cage, graph, spanCount: 0, spanOf: [], spanDiameterMm: new Float64Array() };
      return checkOf({ ...inputOf(cage), lattice: fork }, 'joint-crowding');
    };
    expect(fork(31)).toMatchObject({ status: 'pass', limit: 30 });
    expect(fork(31).value).toBeCloseTo(31, 9);
    expect(fork(20)).toMatchObject({ status: 'warn', where: [{ kind: 'node', index: 0 }] });
    expect(fork(180)).toMatchObject({ status: 'pass' });
    // Two struts of radius 1/2 at 2 degrees part at 0.5 / tan(1 degree) = 28.6 mm, beyond their own length.
    expect(fork(2).message).toContain('joint zones of 2 struts meet');
  });

  it('find joint zones that meet: at right angles when a strut is no longer than its diameter', () => {
    // Radius r at 90 degrees merges over r at either end.
    const cage = (d: number) =>
      checkOf(
        { ...inputOf(cageLattice(CUBE, { scales: [10], diameters: [2] })), lattice: cageLattice(CUBE, { scales: [10], diameters: [d] }) },
        'joint-crowding',
      );
    expect(cage(19.9)).toMatchObject({ status: 'pass', value: expect.closeTo(90, 9) });
    expect(cage(20.1)).toMatchObject({ status: 'warn' });
    expect(cage(20.1).where).toHaveLength(12);
  });
});

describe('joint zones', () => {
  const free = (degrees: number, first: number, second: number) => {
    const [c, s] = [20 * Math.cos((degrees * Math.PI) / 180), 20 * Math.sin((degrees * Math.PI) / 180)];
    const points: Point[] = [
      [0, 0, 0],
      [20, 0, 0],
      [c, s, 0],
    ];
    return joints(
      graphOf(points, [
        [0, 1, first],
        [0, 2, second],
      ]),
    ).freeMm;
  };

  it('end where the surfaces of two struts part', () => {
    // Equal radii r: r / tan(t / 2). At right angles each zone is the other strut's radius.
    expect(free(60, 2, 2)[0]).toBeCloseTo(20 - 1 / Math.tan(Math.PI / 6), 9);
    expect(free(90, 2, 6)[0]).toBeCloseTo(20 - 3, 9);
    expect(free(90, 2, 6)[1]).toBeCloseTo(20 - 1, 9);
  });

  it('hold the node sphere, which reaches further than a neighbour that leans away', () => {
    expect(free(150, 2, 6)[0]).toBeCloseTo(20 - Math.sqrt(9 - 1), 9);
  });

  it('are none between equal struts in one line', () => {
    expect([...free(180, 2, 2)]).toEqual([expect.closeTo(20, 9), expect.closeTo(20, 9)]);
  });
});

describe('safety', () => {
  const cage = (opening: number, inner?: number) => {
    const scales = [(opening + 2) / 2, ...(inner === undefined ? [] : [(inner + 2) / 2])];
    const lattice = cageLattice(CUBE, { scales, diameters: scales.map(() => 2), postDiameter: inner === undefined ? 0 : 2 });
    return checkOf(inputOf(lattice), 'finger-entrapment');
  };

  it('warn of cells a finger can be caught in', () => {
    expect(cage(7.9)).toMatchObject({ status: 'pass', limit: 8, value: expect.closeTo(7.9, 9) });
    expect(cage(8)).toMatchObject({ status: 'warn', limit: 25 });
    expect(cage(24.9)).toMatchObject({ status: 'warn', where: expect.arrayContaining([{ kind: 'cell', index: 0, layer: 0 }]) });
    expect(cage(25)).toMatchObject({ status: 'pass', limit: 25 });
    expect(cage(8).message).toMatch(/from memory.*EN 1176.*EN 71-1.*local codes/);
  });

  it('look behind the outer layer as far as a finger reaches', () => {
    expect(cage(40, 20)).toMatchObject({ status: 'warn', value: expect.closeTo(20, 9) });
    expect(cage(40, 20).where.every(({ layer }) => layer === 1)).toBe(true);
    expect(cage(40, 30)).toMatchObject({ status: 'pass', value: expect.closeTo(30, 9) });
  });

  it('warn of a small ball', () => {
    expect(checkOf(inputOf(shell, { outsideDiameterMm: 44 }), 'small-part')).toMatchObject({ status: 'warn', value: 44, limit: 44.45 });
    expect(checkOf(inputOf(shell, { outsideDiameterMm: 45 }), 'small-part')).toMatchObject({ status: 'not-checked' });
  });
});

describe('build', () => {
  it('shows how far the modulus differs by direction, without judging strength', () => {
    const directed = withMaterial({ directionFactors: { upright: 0.8, inLayer: 1 } });
    expect(checkOf(inputOf(shell, directed), 'orientation-effect')).toMatchObject({
      status: 'not-checked',
      value: expect.closeTo(20, 9),
      message: expect.stringContaining('along the build axis'),
    });
    expect(checkOf(inputOf(shell), 'orientation-effect')).toMatchObject({ status: 'not-checked', value: null });
  });

  it('fit or do not fit by the same sphere and margins as the arrangement', () => {
    const fits = (outsideDiameterMm: number) =>
      checkOf(inputOf(shell, { outsideDiameterMm, ...withMaterial({ shrinkagePct: [2, 3, 1] }) }), 'fits-build-volume');
    expect(fits(0.97 * 280)).toMatchObject({ status: 'pass', limit: 280 });
    expect(fits(0.97 * 280.1)).toMatchObject({ status: 'fail', limit: 280 });
    expect(fits(0.97 * 290).message).toContain('10 mm too large along x');
    expect(checkOf(inputOf(shell, { volume: { ...VOLUME, wallMarginMm: 160 } }), 'fits-build-volume')).toMatchObject({
      status: 'fail',
      limit: -20,
    });
  });

  it('show the largest growth of a section, without judging it', () => {
    const profile = { layerMm: 0.1, zMinMm: 0, areaMm2: Float64Array.of(5, 9, 30, 12, 20), contourMm: new Float64Array(5) };
    expect(checkOf(inputOf(shell, { profile }), 'layer-area-jump')).toMatchObject({
      status: 'not-checked',
      value: 21,
      where: [{ kind: 'layer', index: 2 }],
    });
  });
});
