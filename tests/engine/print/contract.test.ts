import { describe, expect, expectTypeOf, it } from 'vitest';
import type { z } from 'zod';
import type { buildResult, costResult } from '../../../openapi/build-result.ts';
import type { BuildVolume as BuildVolumeRecord, InlineBuildVolume } from '../../../openapi/build-volume.ts';
import type { InlineMaterial, Material } from '../../../openapi/material.ts';
import { printabilityResult } from '../../../openapi/result.ts';
import type { BuildFigures, CostFigures } from '../../../worker/engine/making.ts';
import {
  type BuildVolume,
  clearOpenings,
  type Printability,
  type PrintMaterial,
  powderEscape,
  printability,
  smallestGap,
} from '../../../worker/engine/print/index.ts';
import { cageLattice, DODECAHEDRON, MATERIAL, VOLUME } from './samples.ts';

describe('the contract', () => {
  it('has the same shapes as the results of this room (checked by the compiler)', () => {
    expectTypeOf<Printability>().toEqualTypeOf<z.infer<typeof printabilityResult>>();
    expectTypeOf<BuildFigures>().toEqualTypeOf<z.infer<typeof buildResult>>();
    expectTypeOf<CostFigures>().toEqualTypeOf<z.infer<typeof costResult>>();
  });

  it('has records this room can read (checked by the compiler)', () => {
    expectTypeOf<InlineMaterial>().toExtend<PrintMaterial>();
    expectTypeOf<Material>().toExtend<PrintMaterial>();
    expectTypeOf<InlineBuildVolume>().toExtend<BuildVolume>();
    expectTypeOf<BuildVolumeRecord>().toExtend<BuildVolume>();
  });

  it('accepts what is computed, every number finite', () => {
    const lattice = cageLattice(DODECAHEDRON, { scales: [30, 22], diameters: [3, 2.5], postDiameter: 2.5 });
    const profile = { layerMm: 0.1, zMinMm: -52, areaMm2: new Float64Array(1040).fill(200), contourMm: new Float64Array(1040).fill(300) };
    const gap = smallestGap(lattice.graph, null, 1);
    if (gap.kind !== 'clear') throw new Error(gap.fault.message);
    const openings = clearOpenings(lattice);
    const wayOut = powderEscape(lattice, openings);
    const given = {
      lattice,
      outsideDiameterMm: 107,
      material: MATERIAL,
      volume: VOLUME,
      gap,
      openings,
      wayOut,
      profile,
      originalPeakForceN: null,
    };
    expect(printabilityResult.safeParse(printability(given))).toMatchObject({ success: true });
  });
});
