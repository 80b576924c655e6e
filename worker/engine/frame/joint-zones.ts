import type { StrutGraph } from '../lattice/index.ts';
import type { EndZones } from './end-zones.ts';
import { type Arm, reachOf } from './joint-reach.ts';
import { triadsOf } from './strut-frame.ts';

/**
 * Lengths that give nothing, over the mean reach of the joint (torsion, shear), over its reach beyond the node's sphere for struts that no other strut
 * runs on from (axial), and over its weighted reach (bending). Least squares over the nine compliances and the joints marked as fitted in
 * tests/reference/joint-solids.json.
 */
const FITTED = { axial: 5.34, torsion: 0.729, shear: 0.663, bending: 0.602 } as const;

/**
 * Zones in which joints keep struts from giving, from the geometry of the joint alone: the reach of its material along each strut, times four numbers
 * fitted to finite element solutions of solid joints. `poll` is called for every end of a strut, and may throw.
 */
export function jointZones(graph: StrutGraph, poll?: () => void): EndZones {
  const { strutCount, nodeCount, ends, diameters, nodeRadius } = graph;
  const count = 2 * strutCount;
  const zones: EndZones = {
    axial: new Float64Array(count),
    torsion: new Float64Array(count),
    shear: new Float64Array(count),
    bending: new Float64Array(count),
    bendingAcross: new Float64Array(count),
    normal: new Float64Array(3 * count),
  };
  const { triads } = triadsOf(graph);
  const armAt = (k: number): Arm => {
    const [at, sign] = [9 * (k >> 1), k % 2 === 0 ? 1 : -1];
    return { direction: [sign * triads[at], sign * triads[at + 1], sign * triads[at + 2]], radius: diameters[k] / 2 };
  };
  const endsAt: number[][] = Array.from({ length: nodeCount }, () => []);
  for (let k = 0; k < count; k++) endsAt[ends[k]].push(k);
  for (let k = 0; k < count; k++) {
    poll?.();
    const others = endsAt[ends[k]].filter((other) => other !== k).map(armAt);
    const [e2, e3] = [triads.subarray(9 * (k >> 1) + 3, 9 * (k >> 1) + 6), triads.subarray(9 * (k >> 1) + 6, 9 * (k >> 1) + 9)];
    const arm = armAt(k);
    const { sphere, mean, tensor } = reachOf(arm, e2, e3, others, others.length === 0 ? arm.radius : nodeRadius[ends[k]]);
    zones.axial[k] = FITTED.axial * (mean - sphere) * turning(arm, others);
    zones.torsion[k] = FITTED.torsion * mean;
    zones.shear[k] = FITTED.shear * mean;
    setBending(zones, k, tensor, e2, e3);
  }
  return zones;
}

/** What another strut that runs on leaves of the axial zone: 1 - cos^2 of the angle past a right angle. Pulled straight through, a joint spreads nothing. */
function turning({ direction: [x, y, z] }: Arm, others: readonly Arm[]): number {
  let straight = 0;
  for (const { direction } of others) straight = Math.max(straight, -(x * direction[0] + y * direction[1] + z * direction[2]));
  return 1 - straight * straight;
}

/** Principal directions of the weighted reach: bending about a direction works the fibres at right angles to it. */
function setBending(
  zones: EndZones,
  k: number,
  [s22, s23, s33]: readonly [number, number, number],
  e2: Float64Array,
  e3: Float64Array,
): void {
  const middle = (s22 + s33) / 2;
  const half = Math.hypot((s22 - s33) / 2, s23);
  // Fibres at the angle a from e2 have the largest reach, middle + half; the normal about which they are bent is at right angles.
  const a = Math.atan2(s23, (s22 - s33) / 2) / 2;
  for (let c = 0; c < 3; c++) zones.normal[3 * k + c] = -Math.sin(a) * e2[c] + Math.cos(a) * e3[c];
  zones.bending[k] = FITTED.bending * (middle + half);
  zones.bendingAcross[k] = FITTED.bending * Math.max(0, middle - half);
}
