import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';
import { type Cap, exposedArcs } from './caps.ts';
import { levelHeights } from './level-heights.ts';
import { type Cut, meanSections } from './mean-sections.ts';
import { openParts } from './open-parts.ts';
import { makeStrutSection, type SectionShare } from './section.ts';
import { inside } from './touched-sphere.ts';
import type { UnionSurface } from './union.ts';
import { upright } from './upright.ts';

/** Looks round a sphere's circle for the places where a strut that does not meet at its node begins or ends. */
const LOOKS = 48;

/** Section area and contour of the union in each horizontal layer, bottom to top. */
export interface LayerProfile {
  readonly layerMm: number;
  /** Height of the bottom of the first layer, mm; the stack is centred on the object. */
  readonly zMinMm: number;
  readonly areaMm2: Float64Array;
  readonly contourMm: Float64Array;
}

/** The same with the height of the plane that tells each layer, mm. */
export interface SlicedLayers extends LayerProfile {
  readonly zMm: Float64Array;
}

/**
 * Slices the union by horizontal planes, exactly: area = sum of (x dy - y dx) / 2 over the exposed arcs of the section's outline (Green), which
 * are arcs of conics from the struts and of circles from the node spheres. A layer is cut at its middle; where the area bends
 * sharply, as on level struts, at the height whose section has the layer's mean area, so that layers add up to the volume (see meanSections).
 */
export function slice(
  graph: StrutGraph,
  surface: UnionSurface,
  symmetry: GraphSymmetry | null,
  layerMm: number,
  isCancelled: () => boolean = () => false,
): SlicedLayers {
  const { nodes, nodeRadius, origin } = surface.frames;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let v = 0; v < graph.nodeCount; v++) {
    low = Math.min(low, nodes[3 * v + 2] - nodeRadius[v]);
    high = Math.max(high, nodes[3 * v + 2] + nodeRadius[v]);
  }
  // Even, so that no plane passes through the centre: there struts that are each other's mirror image meet all along it.
  const count = 2 * Math.max(1, Math.ceil((high - low) / (2 * layerMm) - 1e-9));
  const stack = { bottom: (low + high - count * layerMm) / 2, layerMm, count };
  const cut = makeSections(graph, surface, symmetry, isCancelled);
  const { planes, area, contour } = meanSections(stack, levelHeights(graph, surface.frames, layerMm), cut);
  return { layerMm, zMinMm: stack.bottom + origin[2], zMm: planes.map((z) => z + origin[2]), areaMm2: area, contourMm: contour };
}

/**
 * Sections at planes in rising order, which lie evenly about the object's middle. With a symmetry group whose rotations keep the vertical only one
 * strut and node of each of their orbits is cut: a turn about the vertical changes nothing, a half turn about a level axis turns the planes over.
 */
function makeSections(graph: StrutGraph, surface: UnionSurface, symmetry: GraphSymmetry | null, isCancelled: () => boolean): Cut {
  const { nodes, nodeRadius } = surface.frames;
  const share: SectionShare = { area: 0, contour: 0 };
  const { weight, turnsOver } = upright(graph, symmetry);
  const section = makeStrutSection(surface);

  return (planes) => {
    const count = planes.length;
    const area = new Float64Array(count);
    const contour = new Float64Array(count);

    /** Adds a body's sections between two heights, `many` times, half of them turned over where the group does that. */
    function addBetween(from: number, to: number, many: number, add: (z: number) => void): void {
      for (let k = firstFrom(planes, from); k < count && planes[k] <= to; k++) {
        share.area = 0;
        share.contour = 0;
        add(planes[k]);
        for (const at of turnsOver ? [k, count - 1 - k] : [k]) {
          area[at] += (share.area * many) / (turnsOver ? 2 : 1);
          contour[at] += (share.contour * many) / (turnsOver ? 2 : 1);
        }
      }
    }

    for (let s = 0; s < graph.strutCount && !isCancelled(); s++) {
      const many = weight.strut(s);
      if (many > 0 && anyBetween(planes, ...section.span(s))) addBetween(...section.begin(s), many, (z) => section.add(z, share));
    }
    for (let v = 0; v < graph.nodeCount && !isCancelled(); v++) {
      const many = weight.node(v);
      const height = nodes[3 * v + 2];
      const [from, to] = [height - nodeRadius[v], height + nodeRadius[v]];
      const caps = many > 0 && anyBetween(planes, from, to) ? surface.caps(v) : null;
      if (!caps || (caps.length > 0 && !caps.some((cap, k) => exposedArcs(cap, k, caps).length > 0))) continue;
      const struts = surface.reaching(v, caps);
      addBetween(from, to, many, (z) => addCircle(surface, v, { caps, struts }, z, share));
    }
    return { area, contour };
  };
}

/** Index of the first plane at or above a height. */
function firstFrom(planes: Float64Array, height: number): number {
  let [low, high] = [0, planes.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (planes[middle] < height) low = middle + 1;
    else high = middle;
  }
  return low;
}

const anyBetween = (planes: Float64Array, from: number, to: number): boolean => {
  const first = firstFrom(planes, from);
  return first < planes.length && planes[first] <= to;
};

/** What cuts a node's sphere: caps, and struts that leave other curves on it. */
interface Cutting {
  readonly caps: readonly Cap[];
  readonly struts: readonly number[];
}

/** The circle in which a node's sphere meets the plane, outside its struts. About +z the angle runs from +x (see `perpendiculars`). */
function addCircle({ frames }: UnionSurface, node: number, { caps, struts }: Cutting, z: number, share: SectionShare): void {
  const R = frames.nodeRadius[node];
  const cosine = (z - frames.nodes[3 * node + 2]) / R;
  const r = R * Math.sqrt(1 - cosine * cosine);
  const [x, y] = [frames.nodes[3 * node], frames.nodes[3 * node + 1]];
  const add = (a: number, b: number) => {
    share.area += (r * (x * (Math.sin(b) - Math.sin(a)) - y * (Math.cos(b) - Math.cos(a)) + r * (b - a))) / 2;
    share.contour += r * (b - a);
  };
  const clear = (angle: number) => {
    const p = [x + r * Math.cos(angle), y + r * Math.sin(angle), z];
    return Math.min(...struts.map((strut) => inside(frames, strut, p)));
  };
  for (const [a, b] of exposedArcs({ axis: [0, 0, 1], cosine }, -1, caps)) {
    if (struts.length === 0) add(a, b);
    else openParts(clear, a, b, LOOKS, add);
  }
}
