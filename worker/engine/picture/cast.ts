import type { StrutGraph } from '../lattice/index.ts';
import type { Camera } from './camera.ts';
import { drawBall, drawFrustum, type Raster } from './convex.ts';

/** What is seen in each point of a raster: body (strut, or -1 - node; NOTHING), depth towards the eye (mm), and how directly its surface faces the eye. */
export interface Seen {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly body: Int32Array;
  readonly depthMm: Float32Array;
  /** Cosine between the surface's normal and the way to the eye; CUT_FACE where the part was cut. */
  readonly facing: Float32Array;
  /** The same for the normal's share to the right and up, in turn. */
  readonly lean: Float32Array;
}
export const NOTHING = -0x80000000;

export interface Casting {
  readonly camera: Camera;
  /** Middle of the picture, and what a point of the raster is wide, mm. */
  readonly middle: readonly number[];
  readonly pixelMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** What lies nearer to the eye than the middle is taken away. */
  readonly cut: boolean;
  /** Called at every body; what it throws ends it. */
  readonly poll?: () => void;
}

/**
 * Casts a parallel ray through every point of a raster, exactly: each frustum and ball, both convex, covers one interval of a ray, found in closed form
 * where the body's shadow falls; what is nearest to the eye is seen. Bodies that reach nearest to the eye come first: of most others it is then known
 * from the depth that is there that they are hidden.
 */
export function cast(graph: StrutGraph, { camera, middle, pixelMm, widthPx, heightPx, cut, poll = () => {} }: Casting): Seen {
  const size = widthPx * heightPx;
  const raster: Raster = {
    ...{ widthPx, heightPx, pixelMm, cut, nodeCount: graph.nodeCount },
    body: new Int32Array(size).fill(NOTHING),
    depthMm: new Float32Array(size).fill(Number.NEGATIVE_INFINITY),
    facing: new Float32Array(size),
    lean: new Float32Array(2 * size),
  };
  const places = placesOf(graph, camera, middle);
  for (const body of fromTheEye(graph, places)) {
    poll();
    if (body < 0) {
      const v = -1 - body;
      drawBall(raster, body, places.subarray(3 * v, 3 * v + 3), graph.nodeRadius[v]);
    } else {
      const [p, q] = [graph.ends[2 * body], graph.ends[2 * body + 1]].map((v) => places.subarray(3 * v, 3 * v + 3));
      drawFrustum(raster, body, p, q, graph.diameters[2 * body] / 2, graph.diameters[2 * body + 1] / 2);
    }
  }
  return raster;
}

/** Nodes as the camera sees them: to the right, up and towards the eye, 3 each, mm from the middle. */
function placesOf({ nodeCount, xyz }: StrutGraph, { right, up, toEye }: Camera, middle: readonly number[]): Float64Array {
  const places = new Float64Array(3 * nodeCount);
  for (let v = 0; v < nodeCount; v++) {
    const [x, y, z] = [xyz[3 * v] - middle[0], xyz[3 * v + 1] - middle[1], xyz[3 * v + 2] - middle[2]];
    places[3 * v] = x * right[0] + y * right[1] + z * right[2];
    places[3 * v + 1] = x * up[0] + y * up[1] + z * up[2];
    places[3 * v + 2] = x * toEye[0] + y * toEye[1] + z * toEye[2];
  }
  return places;
}

/** All bodies, those that reach nearest to the eye first. */
function fromTheEye({ nodeCount, strutCount, ends, diameters, nodeRadius }: StrutGraph, places: Float64Array): Int32Array {
  const nearest = new Float64Array(nodeCount + strutCount);
  for (let v = 0; v < nodeCount; v++) nearest[nodeCount - 1 - v] = places[3 * v + 2] + nodeRadius[v];
  for (let s = 0; s < strutCount; s++) {
    const [p, q] = [2 * s, 2 * s + 1].map((end) => places[3 * ends[end] + 2] + diameters[end] / 2);
    nearest[nodeCount + s] = Math.max(p, q);
  }
  return Int32Array.from(nearest, (_, k) => k - nodeCount).sort((a, b) => nearest[b + nodeCount] - nearest[a + nodeCount]);
}
