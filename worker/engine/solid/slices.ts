import type { GraphSymmetry, StrutGraph } from '../lattice/index.ts';
import { type Cap, exposedArcs } from './caps.ts';
import { openParts } from './open-parts.ts';
import { makeStrutSection, type SectionShare } from './section.ts';
import { inside } from './touched-sphere.ts';
import type { UnionSurface } from './union.ts';
import { upright } from './upright.ts';

/** Looks round a sphere's circle for the places where a strut that does not meet at its node begins or ends. */
const LOOKS = 48;

/** Section area and contour of the union at the middle of each horizontal layer, bottom to top. */
export interface LayerProfile {
  readonly layerMm: number;
  /** Height of the bottom of the first layer, mm; the stack is centred on the object. */
  readonly zMinMm: number;
  readonly areaMm2: Float64Array;
  readonly contourMm: Float64Array;
}

/**
 * Slices the union by horizontal planes, exactly: area = sum of (x dy - y dx) / 2 over the exposed arcs of the section's outline (Green), which
 * are arcs of conics from the struts and of circles from the node spheres. With a symmetry group whose rotations keep the vertical only one
 * strut and node of each of their orbits is cut: a turn about the vertical changes nothing, a half turn about a level axis turns the stack over.
 */
export function slice(
  graph: StrutGraph,
  surface: UnionSurface,
  symmetry: GraphSymmetry | null,
  layerMm: number,
  isCancelled: () => boolean = () => false,
): LayerProfile {
  const { nodes, nodeRadius, origin } = surface.frames;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let v = 0; v < graph.nodeCount; v++) {
    low = Math.min(low, nodes[3 * v + 2] - nodeRadius[v]);
    high = Math.max(high, nodes[3 * v + 2] + nodeRadius[v]);
  }
  // Even, so that no plane passes through the centre: there struts that are each other's mirror image meet all along it.
  const count = 2 * Math.max(1, Math.ceil((high - low) / (2 * layerMm) - 1e-9));
  const bottom = (low + high - count * layerMm) / 2;
  const area = new Float64Array(count);
  const contour = new Float64Array(count);
  const share: SectionShare = { area: 0, contour: 0 };
  const { weight, turnsOver } = upright(graph, symmetry);

  /** Adds a body's sections between two heights, `many` times, half of them turned over where the group does that. */
  function addBetween(from: number, to: number, many: number, cut: (z: number) => void): void {
    const last = Math.min(count - 1, Math.floor((to - bottom) / layerMm - 0.5));
    for (let k = Math.max(0, Math.ceil((from - bottom) / layerMm - 0.5)); k <= last; k++) {
      share.area = 0;
      share.contour = 0;
      cut(bottom + (k + 0.5) * layerMm);
      for (const at of turnsOver ? [k, count - 1 - k] : [k]) {
        area[at] += (share.area * many) / (turnsOver ? 2 : 1);
        contour[at] += (share.contour * many) / (turnsOver ? 2 : 1);
      }
    }
  }

  const section = makeStrutSection(surface);
  for (let s = 0; s < graph.strutCount && !isCancelled(); s++) {
    const many = weight.strut(s);
    if (many > 0) addBetween(...section.begin(s), many, (z) => section.add(z, share));
  }
  for (let v = 0; v < graph.nodeCount && !isCancelled(); v++) {
    const many = weight.node(v);
    const caps = many > 0 ? surface.caps(v) : null;
    if (!caps || (caps.length > 0 && !caps.some((cap, k) => exposedArcs(cap, k, caps).length > 0))) continue;
    const height = nodes[3 * v + 2];
    const struts = surface.reaching(v, caps);
    addBetween(height - nodeRadius[v], height + nodeRadius[v], many, (z) => addCircle(surface, v, { caps, struts }, z, share));
  }
  return { layerMm, zMinMm: bottom + origin[2], areaMm2: area, contourMm: contour };
}

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
