import { expect, it } from 'vitest';
import { linearStatics, massMatrix, NODE_UNKNOWNS, stiffnessMatrix, strutFrame, vibration } from '../../worker/engine/frame/index.ts';
import { latticeOf } from '../engine/lattice/samples.ts';

// Computed once with SciPy 1.10 (sparse LU and shift-invert eigsh on an independently written frame): centre-line radii 90 and 75 mm, outer struts 3 mm,
// inner and posts 2.5 mm, tilings without relaxation, pentagon up, E 60 MPa, nu 0.45, density 1.1 g/cm3 with the sum of cylinders as mass.
const BALLS: [number, number, number][][] = [[[2, 0, 0.200965]], [[3, 0, 0.406388]]];
const FREQUENCIES = { '2,0': [36.1821, 45.6692], '3,0': [49.6969, 66.671] };

it.each(BALLS.flat())(
  'GP(%i,%i) gives %f N/mm between five nodes and five, and rings five-fold at the two first frequencies',
  (m, n, stiffness) => {
    const { graph } = latticeOf({
      m,
      n,
      orientation: 'pentagon-up',
      outsideDiameterMm: 183,
      layers: [
        { depthMm: 0, strutDiameterMm: 3 },
        { depthMm: 15, strutDiameterMm: 2.5 },
      ],
      posts: 2.5,
    });
    const frame = strutFrame(graph, { modulusMPa: 60, poisson: 0.45 });
    const byHeight = Array.from({ length: graph.nodeCount }, (_, v) => v).sort((a, b) => graph.xyz[3 * a + 2] - graph.xyz[3 * b + 2]);
    const z = (v: number) => NODE_UNKNOWNS * v + 2;
    const [low, high] = [byHeight.slice(0, 5), byHeight.slice(-5)];
    const held = new Map(low.map((v) => [z(v), 0]));
    // In the plane the ball is free; three unknowns of the lowest nodes only take away its rigid motion and carry no force.
    held.set(NODE_UNKNOWNS * low[0], 0).set(NODE_UNKNOWNS * low[0] + 1, 0);
    const far = low.reduce((a, b) =>
      Math.hypot(graph.xyz[3 * b] - graph.xyz[3 * low[0]], graph.xyz[3 * b + 1] - graph.xyz[3 * low[0] + 1]) >
      Math.hypot(graph.xyz[3 * a] - graph.xyz[3 * low[0]], graph.xyz[3 * a + 1] - graph.xyz[3 * low[0] + 1])
        ? b
        : a,
    );
    const alongX = Math.abs(graph.xyz[3 * far] - graph.xyz[3 * low[0]]) > Math.abs(graph.xyz[3 * far + 1] - graph.xyz[3 * low[0] + 1]);
    held.set(NODE_UNKNOWNS * far + (alongX ? 1 : 0), 0);
    const load = new Float64Array(NODE_UNKNOWNS * graph.nodeCount);
    for (const v of high) load[z(v)] = -0.2;
    const found = linearStatics(frame, { held, load });
    if (found.kind !== 'displaced') throw new Error(found.kind);
    const approach = high.reduce((sum, v) => sum - found.displacement[z(v)] / 5, 0);
    // To the digits that were kept.
    expect(1 / approach / stiffness).toBeCloseTo(1, 5);

    const modes = vibration(stiffnessMatrix(frame), massMatrix(frame, { densityTMm3: 1.1e-9, poisson: 0.45 }), { count: 10 });
    if (modes.kind !== 'vibration') throw new Error(modes.kind);
    expect(modes.rigidMotions).toBe(6);
    const [first, second] = FREQUENCIES[`${m},${n}` as keyof typeof FREQUENCIES];
    for (let k = 0; k < 5; k++) {
      expect(modes.frequenciesHz[k] / first).toBeCloseTo(1, 5);
      expect(modes.frequenciesHz[5 + k] / second).toBeCloseTo(1, 5);
    }
  },
);
