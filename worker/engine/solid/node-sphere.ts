import { type Cap, exposedArcs } from './caps.ts';
import type { Moments } from './moments.ts';
import { addArc, addSphereFlux, finishRegion, newRegion } from './sphere-region.ts';

/**
 * Adds the part of a node's sphere outside all caps to the moments of the solid it bounds; all of it when there are no caps.
 * Area: flux of the one-form p . (n x dn) / (1 + n . p), regular away from -p, which is put under the widest cap. The higher integrals follow
 * from the spherical harmonics of degree 1 to 3, whose surface Laplacian is -l (l + 1) times themselves (Green's theorem on the sphere).
 */
export function addNodeSphere(centre: ArrayLike<number>, radius: number, caps: readonly Cap[], out: Moments): void {
  const region = newRegion();
  if (caps.length === 0) {
    region.m0 = 4 * Math.PI;
    finishRegion(region);
    addSphereFlux(centre, radius, region, out);
    return;
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
  if (arcs === 0) return;
  finishRegion(region);
  addSphereFlux(centre, radius, region, out);
}
