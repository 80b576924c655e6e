import { describe, expect, it } from 'vitest';
import {
  type CheckInput,
  clearOpenings,
  type MechanicsFindings,
  powderEscape,
  printability,
  smallestGap,
} from '../../../worker/engine/print/index.ts';
import { CUBE, cageLattice, DODECAHEDRON, MATERIAL, VOLUME } from './samples.ts';

const NOTHING: MechanicsFindings = { bounce: null, buckling: null, squeezed: null, life: null, estimatedOriginalPeakForceN: null };
const BOUNCE = { dropHeightMm: 1800, peakForceN: 400, peakStrainPct: 12, strut: 31 };
const SQUEEZE = { toDeflectionMm: 24, toForceN: 500, first: null };

/** Two dodecahedra with posts. */
const shell = cageLattice(DODECAHEDRON, { scales: [30, 22], diameters: [3, 2.5], postDiameter: 2.5 });

function checkOf(id: string, mechanics: Partial<MechanicsFindings> | undefined, change: Partial<CheckInput> = {}) {
  const lattice = change.lattice ?? shell;
  const gap = smallestGap(lattice.graph, null, 1);
  if (gap.kind !== 'clear') throw new Error(gap.fault.message);
  const openings = clearOpenings(lattice);
  const given = {
    lattice,
    outsideDiameterMm: 120,
    material: MATERIAL,
    volume: VOLUME,
    gap,
    openings,
    profile: null,
    originalPeakForceN: null,
  };
  const input = { ...given, wayOut: powderEscape(lattice, openings), mechanics: mechanics && { ...NOTHING, ...mechanics }, ...change };
  return printability(input).checks.find((check) => check.id === id)!;
}

const bearing = (maxStrainPct: number | null) => ({ material: { ...MATERIAL, maxStrainPct } });

describe('checks that need mechanics', () => {
  it.each(['bounce-strain', 'buckling', 'peak-force', 'small-part', 'finger-entrapment-deformed'])(
    '%s is not checked, with a caution, while mechanics has not found its figures',
    (id) => {
      for (const mechanics of [undefined, NOTHING]) {
        const check = checkOf(id, mechanics, bearing(25));
        expect(check).toMatchObject({ status: 'not-checked', value: null, where: [] });
        expect(check.message.length).toBeGreaterThan(60);
      }
    },
  );
});

describe('strain in a bounce', () => {
  it('fails above what the material bears, at the strut where it peaks', () => {
    const failed = checkOf('bounce-strain', { bounce: BOUNCE }, bearing(11.9));
    expect(failed).toMatchObject({
      status: 'fail',
      value: 12,
      limit: 11.9,
      unit: 'percent',
      where: [{ kind: 'strut', index: 31, layer: 1 }],
    });
    expect(failed.message).toBe('Dropped from 1800 mm the worst strut is strained by 12 %; the material bears 11.9 %.');
    expect(checkOf('bounce-strain', { bounce: BOUNCE }, bearing(12))).toMatchObject({ status: 'pass', where: [] });
    expect(checkOf('bounce-strain', { bounce: { ...BOUNCE, strut: null } }, bearing(1)).where).toEqual([]);
  });

  it('shows the strain, and judges nothing, where the material gives no limit', () => {
    expect(checkOf('bounce-strain', { bounce: BOUNCE }, bearing(null))).toMatchObject({ status: 'not-checked', value: 12, limit: null });
    expect(checkOf('bounce-strain', { bounce: BOUNCE })).toMatchObject({ status: 'not-checked', value: 12 });
  });
});

describe('peak force', () => {
  it('warns above that of the original: harder is a hazard', () => {
    expect(checkOf('peak-force', { bounce: BOUNCE }, { originalPeakForceN: 399 })).toMatchObject({
      status: 'warn',
      value: 400,
      limit: 399,
      message: expect.stringContaining('hurts more'),
    });
    expect(checkOf('peak-force', { bounce: BOUNCE }, { originalPeakForceN: 400 })).toMatchObject({ status: 'pass' });
  });

  it('is not checked without a figure of the original: shown, with the estimate and a caution', () => {
    const bare = checkOf('peak-force', { bounce: BOUNCE });
    expect(bare).toMatchObject({ status: 'not-checked', value: 400, limit: null, message: expect.stringContaining('no figure') });
    // Softer than the estimate or harder: an estimate never judges.
    for (const estimatedOriginalPeakForceN of [300, 500]) {
      const message = expect.stringContaining(`estimated at ${estimatedOriginalPeakForceN} N, which nobody measured`);
      expect(checkOf('peak-force', { bounce: BOUNCE, estimatedOriginalPeakForceN })).toMatchObject({ status: 'not-checked', message });
    }
  });
});

describe('buckling', () => {
  const first = { deflectionMm: 9, forceN: 210, strut: 55 };
  const buckled = { ...SQUEEZE, first };

  it("warns below the original's peak force, else that of the bounce, else anywhere in the squeeze", () => {
    const place = [{ kind: 'strut', index: 55, layer: 1 }];
    expect(checkOf('buckling', { buckling: buckled }, { originalPeakForceN: 300 })).toMatchObject({
      status: 'warn',
      value: 210,
      limit: 300,
      unit: 'N',
      where: place,
    });
    expect(checkOf('buckling', { buckling: buckled, bounce: BOUNCE }, { originalPeakForceN: 200 })).toMatchObject({
      status: 'pass',
      limit: 200,
    });
    expect(checkOf('buckling', { buckling: buckled, bounce: BOUNCE })).toMatchObject({ status: 'warn', limit: 400, where: place });
    expect(checkOf('buckling', { buckling: buckled })).toMatchObject({ status: 'warn', limit: null, where: place });
  });

  it('passes only as far as the squeeze went', () => {
    expect(checkOf('buckling', { buckling: SQUEEZE, bounce: BOUNCE })).toMatchObject({ status: 'pass', value: 500, limit: 400 });
    expect(checkOf('buckling', { buckling: SQUEEZE })).toMatchObject({ status: 'pass', limit: null });
    const short = checkOf('buckling', { buckling: SQUEEZE }, { originalPeakForceN: 501 });
    expect(short).toMatchObject({ status: 'not-checked', value: 500, limit: null, message: expect.stringContaining('Squeeze further') });
  });
});

describe('openings of the squeezed part', () => {
  const cage = (open: number) => cageLattice(CUBE, { scales: [(open + 2) / 2], diameters: [2] });
  /** A cube of this opening, one face of which closes to another. */
  const closing = (open: number, to: number) => {
    const cells = new Float64Array(6).fill(open);
    cells[4] = to;
    return checkOf('finger-entrapment-deformed', { squeezed: { deflectionMm: 10, cells: [cells] } }, { lattice: cage(open) });
  };

  it('warn of a cell that closes into the band, or through it', () => {
    const where = [{ kind: 'cell', index: 4, layer: 0 }];
    expect(closing(30, 24.9)).toMatchObject({ status: 'warn', value: 24.9, limit: 25, where });
    expect(closing(30, 5)).toMatchObject({ status: 'warn', value: 5, where });
    expect(closing(6, 9)).toMatchObject({ status: 'warn', value: 9, where });
  });

  it('pass where every cell stays above or below the band', () => {
    expect(closing(30, 25)).toMatchObject({ status: 'pass', value: 25, limit: 25, where: [] });
    expect(closing(6, 7.9)).toMatchObject({ status: 'pass', value: 7.9, limit: 8 });
  });
});

describe('small parts', () => {
  const life = (fromCycles: number) => checkOf('small-part', { life: { fromCycles, strut: 61 } });

  it('warn when struts may soon break off', () => {
    expect(life(9_999)).toMatchObject({
      status: 'warn',
      value: 9_999,
      limit: 10_000,
      unit: 'cycles',
      where: [{ kind: 'strut', index: 61 }],
    });
    expect(life(10_000)).toMatchObject({ status: 'pass', where: [] });
    expect(life(1e9).message).toContain('guarantees nothing');
    const dropped = checkOf('small-part', { life: { fromCycles: 1e9, strut: null }, bounce: BOUNCE });
    expect(dropped.message).toContain('bounces from 1800 mm, harder throws count for more');
  });

  it('keep the warning of a small ball, however long it lasts', () => {
    const small = checkOf('small-part', { life: { fromCycles: 1e9, strut: null } }, { outsideDiameterMm: 44 });
    expect(small).toMatchObject({ status: 'warn', unit: 'mm' });
  });
});
