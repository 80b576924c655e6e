import { describe, expect, it } from 'vitest';
import { balance, integrateUnion, massProperties, slice, unionSurface } from '../../../worker/engine/solid/index.ts';
import { type Ball, latticeOf } from '../lattice/samples.ts';
import { momentsApart } from './samples.ts';

const layer = (depthMm: number, strutDiameterMm: number) => ({ depthMm, strutDiameterMm });
const BALLS: readonly Ball[] = [
  { m: 1, n: 0, outsideDiameterMm: 50, layers: [layer(0, 3)], orientation: 'pentagon-up' },
  { m: 2, n: 0, outsideDiameterMm: 100, layers: [layer(0, 3), layer(10, 2.5)], posts: 2.5 },
  { m: 1, n: 1, outsideDiameterMm: 80, layers: [layer(0, 4), layer(12, 2)], posts: 5, orientation: 'hexagon-up' },
  { m: 2, n: 1, outsideDiameterMm: 120, layers: [layer(0, 3), layer(9, 2), layer(18, 2.5)], posts: 1.5, relaxation: 'equal-edges' },
  { m: 1, n: 3, outsideDiameterMm: 150, layers: [layer(0, 2.5)] },
  { m: 3, n: 0, outsideDiameterMm: 150, layers: [layer(0, 3), layer(8, 3), layer(16, 3), layer(24, 3)], posts: 3 },
];

/** The two routes put the nodes of their quadrature elsewhere; 1e-9 is what is asked of each. */
const SAME = 1e-9;

describe.each(BALLS)('GP($m,$n), $layers.length layers', (ball) => {
  const { graph, symmetry, nodesPerLayer } = latticeOf(ball);
  const surface = unionSurface(graph);
  const [whole, byOrbit] = [integrateUnion(graph, surface, null), integrateUnion(graph, surface, symmetry)];

  it('has the same moments by one strut and node of each orbit as by all', () => {
    expect(momentsApart(whole.moments, byOrbit.moments)).toBeLessThan(SAME);
  });

  it('has the same share of every strut and node', () => {
    const largest = Math.max(...whole.strutVolume);
    for (let s = 0; s < graph.strutCount; s++) expect(Math.abs(whole.strutVolume[s] - byOrbit.strutVolume[s])).toBeLessThan(SAME * largest);
    for (let v = 0; v < graph.nodeCount; v++) expect(Math.abs(whole.nodeVolume[v] - byOrbit.nodeVolume[v])).toBeLessThan(SAME * largest);
  });

  it('is centred, with one inertia about every axis', () => {
    for (const { moments } of [whole, byOrbit]) {
      const { centre, principal, inertia } = massProperties(moments, [0, 0, 0], 1);
      const reach = Math.sqrt(principal[0] / moments[0]);
      expect(Math.hypot(...centre) / reach).toBeLessThan(SAME);
      expect(principal[0]).toBeGreaterThan(0);
      expect(principal[2] / principal[0] - 1).toBeLessThan(SAME);
      for (const [i, j] of [
        [0, 1],
        [0, 2],
        [1, 2],
      ])
        expect(Math.abs(inertia[i][j]) / principal[0]).toBeLessThan(SAME);
    }
  });

  it('is sliced alike with and without its symmetry', () => {
    // where a neighbour begins is found, and the arc up to it integrated, to about 1e-6 of a strut's section; a level strut's is as long as the strut
    const [plain, turned] = [null, symmetry].map((each) => slice(graph, surface, each, 1.3));
    expect(turned.areaMm2).toHaveLength(plain.areaMm2.length);
    expect(turned.zMinMm).toBe(plain.zMinMm);
    const [area, contour] = [Math.max(...plain.areaMm2), Math.max(...plain.contourMm)];
    plain.areaMm2.forEach((value, k) => {
      const apart = {
        area: Math.abs(turned.areaMm2[k] - value) / area,
        contour: Math.abs(turned.contourMm[k] - plain.contourMm[k]) / contour,
      };
      // Where a layer bends sharply its plane is searched for by area, to 3e-4 of the mean section: the two searches may stop at different planes.
      const samePlane = Math.abs(turned.zMm[k] - plain.zMm[k]) < 1e-6;
      expect(apart.area, `layer ${k}`).toBeLessThan(samePlane ? 2e-5 : 6e-4);
      // Planes searched for lie where a level strut begins or ends: there its outline is long and thin, and an arc found to 1e-6 of the area is found to
      // 1e-4 of the outline.
      const searched = Math.abs(plain.zMm[k] - (plain.zMinMm + (k + 0.5) * plain.layerMm)) > 1e-6;
      if (samePlane) expect(apart.contour, `layer ${k}`).toBeLessThan(searched ? 2e-4 : 2e-5);
    });
    const alike = plain.zMm.filter((z, k) => Math.abs(turned.zMm[k] - z) < 1e-6).length;
    expect(alike).toBeGreaterThan(plain.zMm.length / 2);
  });

  it('is balanced: nothing is left of centre of mass offset, inertia spread and radial run-out', () => {
    const properties = massProperties(byOrbit.moments, [0, 0, 0], 1);
    const figures = balance(graph, surface, byOrbit, properties, nodesPerLayer);
    expect(figures.centreOfMassOffsetMm).toBeLessThan(1e-9);
    expect(figures.inertiaSpreadPct).toBeLessThan(1e-7);
    // coordinates of up to 75 mm
    expect(figures.radialRunoutMm).toBeLessThan(1e-12 * 100);
    expect(figures.largestHalfMassDifferencePct).toBeGreaterThanOrEqual(figures.halfMassDifferencePct);
  });
});
