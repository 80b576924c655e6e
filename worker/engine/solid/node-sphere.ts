import { type Cap, exposedArcs } from './caps.ts';
import { addArc, finishRegion, newRegion, type RegionMoments } from './sphere-region.ts';

/**
 * The part of a unit sphere outside all caps; all of it when there are none, null when nothing is left.
 * Area: flux of the one-form p . (n x dn) / (1 + n . p), regular away from -p, which is put under the widest cap. The higher integrals follow
 * from the spherical harmonics of degree 1 to 3, whose surface Laplacian is -l (l + 1) times themselves (Green's theorem on the sphere).
 */
export function openRegion(caps: readonly Cap[]): RegionMoments | null {
  const region = newRegion();
  if (caps.length === 0) {
    region.m0 = 4 * Math.PI;
    finishRegion(region);
    return region;
  }
  const widest = caps.reduce((best, cap) => (cap.cosine < best.cosine ? cap : best));
  const pole = widest.axis.map((x) => -x);
  let arcs = 0;
  for (const [k, cap] of caps.entries()) {
    for (const [from, to] of exposedArcs(cap, k, caps)) {
      arcs++;
      addArc(cap, from, to, pole, region);
    }
  }
  if (arcs === 0) return null;
  finishRegion(region);
  return region;
}
