import { incidence, type StrutGraph } from '../lattice/index.ts';

/** How struts crowd at their joints. */
export interface Joints {
  /** Smallest angle between two struts at each node, degrees; 180 where fewer than two meet. */
  readonly angleDeg: Float64Array;
  /** Length of the joint zone along each strut end, mm (2 per strut). */
  readonly zoneMm: Float64Array;
  /** Length of each strut that is free of both joint zones, mm; negative where the zones overlap. */
  readonly freeMm: Float64Array;
}

/**
 * The joint zone of a strut reaches from the node to where its surface leaves those of its neighbours and the node sphere. For axes at an
 * angle t and radii a (this strut) and b (a neighbour) the surfaces part at (b + a cos t) / sin t along this strut, seen in the plane of the axes,
 * if that point lies ahead on the neighbour too; the node sphere of radius R is left at sqrt(R^2 - a^2). Radii are those at the node.
 */
export function joints(graph: StrutGraph): Joints {
  const angleDeg = new Float64Array(graph.nodeCount).fill(180);
  const zoneMm = new Float64Array(graph.ends.length);
  const direction = directions(graph);
  const { ptr, ends } = incidence(graph);
  for (let node = 0; node < graph.nodeCount; node++) {
    for (let p = ptr[node]; p < ptr[node + 1]; p++) {
      const radius = graph.diameters[ends[p]] / 2;
      zoneMm[ends[p]] = Math.max(zoneMm[ends[p]], Math.sqrt(Math.max(0, graph.nodeRadius[node] ** 2 - radius ** 2)));
      for (let q = p + 1; q < ptr[node + 1]; q++) {
        const [cos, sin] = angleBetween(direction, ends[p], ends[q]);
        angleDeg[node] = Math.min(angleDeg[node], (Math.atan2(sin, cos) * 180) / Math.PI);
        const other = graph.diameters[ends[q]] / 2;
        const [along, alongOther] = [(other + radius * cos) / sin, (radius + other * cos) / sin];
        // Written so that the undefined place of two struts in one line (0 / 0) is passed over too.
        if (!(along >= 0 && alongOther >= 0)) continue;
        zoneMm[ends[p]] = Math.max(zoneMm[ends[p]], along);
        zoneMm[ends[q]] = Math.max(zoneMm[ends[q]], alongOther);
      }
    }
  }
  return {
    angleDeg,
    zoneMm,
    freeMm: Float64Array.from({ length: graph.strutCount }, (_, k) => strutLength(graph, k) - zoneMm[2 * k] - zoneMm[2 * k + 1]),
  };
}

/** Distance between the two nodes of strut k, mm. */
export function strutLength({ xyz, ends }: StrutGraph, k: number): number {
  const [a, b] = [3 * ends[2 * k], 3 * ends[2 * k + 1]];
  return Math.hypot(xyz[b] - xyz[a], xyz[b + 1] - xyz[a + 1], xyz[b + 2] - xyz[a + 2]);
}

/** Unit vector from each strut end into the strut, 3 per end. */
function directions(graph: StrutGraph): Float64Array {
  const { xyz, ends } = graph;
  const direction = new Float64Array(3 * ends.length);
  for (let end = 0; end < ends.length; end++) {
    const length = strutLength(graph, end >> 1);
    for (let axis = 0; axis < 3; axis++) direction[3 * end + axis] = (xyz[3 * ends[end ^ 1] + axis] - xyz[3 * ends[end] + axis]) / length;
  }
  return direction;
}

/** Cosine and sine of the angle between two strut ends; the sine from the cross product, so that small angles are exact. */
function angleBetween(direction: Float64Array, p: number, q: number): [number, number] {
  const [ax, ay, az] = [direction[3 * p], direction[3 * p + 1], direction[3 * p + 2]];
  const [bx, by, bz] = [direction[3 * q], direction[3 * q + 1], direction[3 * q + 2]];
  return [ax * bx + ay * by + az * bz, Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx)];
}
