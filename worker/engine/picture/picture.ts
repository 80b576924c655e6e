import type { StrutGraph } from '../lattice/index.ts';
import { CAMERAS, type ViewName } from './camera.ts';
import { cast, NOTHING, type Seen } from './cast.ts';
import type { Colour } from './colours.ts';
import { CUT_FACE } from './convex.ts';
import { drawLegend, INK, type LegendEntry, scaleOf } from './lettering.ts';
import { png } from './png.ts';

/** How the bodies of a picture are coloured, and what that means. */
export interface Colouring {
  /** Of a strut, or of a node (-1 - node). */
  readonly colourOf: (body: number) => Colour;
  readonly legend: readonly LegendEntry[];
}

export interface PictureOptions {
  readonly view: ViewName;
  readonly cut: boolean;
  readonly sizePx: number;
  readonly colouring: Colouring;
  /** Called every few milliseconds; what it throws ends the picture. */
  readonly poll?: () => void;
}

/** Rays for each point of the picture along each of its sides. */
const RAYS = 2;
const BACKGROUND: Colour = [255, 255, 255];
const CUT: Colour = [60, 64, 68];
/** Share of the picture's side that stays free around the part. */
const FREE = 0.06;
/** Light: shares of the surface's own brightness, of what faces the eye, and of what faces the upper left. */
const [AMBIENT, HEAD, KEY] = [0.3, 0.45, 0.25];
/** How far into the background the farthest parts fade. */
const FADE = 0.55;
/** Depths that differ by more than this share of the part's size are parted by a thin line. */
const EDGE = 0.02;

/** A shaded picture of a lattice as PNG, square, with its legend along the lower edge. Rays are parallel; the part fills the picture. */
export function picture(graph: StrutGraph, options: PictureOptions): Uint8Array {
  const { sizePx, colouring } = options;
  const { rgb } = shot(graph, extentOf(graph), options);
  drawLegend({ rgb, widthPx: sizePx, heightPx: sizePx, scale: scaleOf(sizePx) }, colouring.legend);
  return png(rgb, sizePx, sizePx);
}

/** Where a picture looks: its middle, and how far from it in every direction, mm. */
export interface Extent {
  readonly middle: readonly number[];
  readonly reach: number;
}

/** The picture without its legend, 3 numbers per point, and what a point is wide. */
export function shot(graph: StrutGraph, { middle, reach }: Extent, options: PictureOptions): { rgb: Uint8Array; pixelMm: number } {
  const { view, cut, sizePx, colouring, poll } = options;
  const side = RAYS * sizePx;
  const pixelMm = (2 * reach) / (side * (1 - 2 * FREE));
  const seen = cast(graph, { camera: CAMERAS[view], middle, pixelMm, widthPx: side, heightPx: side, cut, poll });
  return { rgb: shaded(graph, seen, { sizePx, reach, colouring, poll }), pixelMm: RAYS * pixelMm };
}

/** Middle of a graph's box, and the radius about it that holds all of it. */
export function extentOf({ xyz, nodeCount, nodeRadius }: StrutGraph): Extent {
  const [low, high] = [
    [Infinity, Infinity, Infinity],
    [-Infinity, -Infinity, -Infinity],
  ];
  for (let k = 0; k < 3 * nodeCount; k++) {
    low[k % 3] = Math.min(low[k % 3], xyz[k] - nodeRadius[Math.floor(k / 3)]);
    high[k % 3] = Math.max(high[k % 3], xyz[k] + nodeRadius[Math.floor(k / 3)]);
  }
  const middle = low.map((x, k) => (x + high[k]) / 2);
  let reach = 0;
  for (let v = 0; v < nodeCount; v++) {
    reach = Math.max(reach, Math.hypot(...middle.map((x, k) => xyz[3 * v + k] - x)) + nodeRadius[v]);
  }
  return { middle, reach };
}

interface Shading extends Pick<PictureOptions, 'sizePx' | 'colouring' | 'poll'> {
  readonly reach: number;
}

/** The mean of the rays of each point. */
function shaded(graph: StrutGraph, seen: Seen, { sizePx, reach, colouring, poll = () => {} }: Shading): Uint8Array {
  const own = new Uint8Array(3 * (graph.nodeCount + graph.strutCount));
  for (let body = -graph.nodeCount; body < graph.strutCount; body++) own.set(colouring.colourOf(body), 3 * (body + graph.nodeCount));
  const light = lightOf(seen, reach, own, graph.nodeCount);
  const rgb = new Uint8Array(3 * sizePx * sizePx).fill(255);
  const sum = new Float64Array(3);
  const { body, widthPx } = seen;
  const rays = Int32Array.from({ length: RAYS * RAYS }, (_, ray) => Math.floor(ray / RAYS) * widthPx + (ray % RAYS));
  for (let j = 0; j < sizePx; j++) {
    poll();
    for (let i = 0; i < sizePx; i++) {
      const first = RAYS * (j * widthPx + i);
      let met = false;
      for (let ray = 0; ray < rays.length; ray++) met ||= body[first + rays[ray]] !== NOTHING;
      if (!met) continue;
      sum.fill(0);
      for (let ray = 0; ray < rays.length; ray++) light(first + rays[ray], sum);
      const at = 3 * (j * sizePx + i);
      for (let k = 0; k < 3; k++) rgb[at + k] = Math.round(sum[k] / (RAYS * RAYS));
    }
  }
  return rgb;
}

/** Adder of what one ray brings. `own`: colours of all bodies, nodes first and backwards. */
function lightOf({ body: bodies, depthMm, facing: facings, lean, widthPx }: Seen, reach: number, own: Uint8Array, nodeCount: number) {
  return (at: number, sum: Float64Array): void => {
    const body = bodies[at];
    const facing = facings[at];
    if (body === NOTHING || facing === CUT_FACE) {
      const flat = body === NOTHING ? BACKGROUND : CUT;
      for (let k = 0; k < 3; k++) sum[k] += flat[k];
      return;
    }
    const depth = depthMm[at];
    const edge = depth + EDGE * reach;
    const inked = depthMm[at + 1] > edge || depthMm[at - 1] > edge || depthMm[at + widthPx] > edge || depthMm[at - widthPx] > edge;
    const key = Math.max(0, 0.7 * facing - 0.5 * lean[2 * at] + 0.5 * lean[2 * at + 1]);
    const away = FADE * Math.min(1, Math.max(0, 0.5 - depth / (2 * reach)));
    const ink = inked ? 0.5 : 0;
    const bright = (AMBIENT + HEAD * facing + KEY * key) * (1 - away);
    for (let k = 0; k < 3; k++) {
      sum[k] += (own[3 * (body + nodeCount) + k] * bright + BACKGROUND[k] * away) * (1 - ink) + INK[k] * ink;
    }
  };
}
