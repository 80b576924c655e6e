import type { Arc } from './caps.ts';
import { makeExposure } from './cover.ts';
import { AXIS, LENGTH, RADIUS, SLOPE, STRIDE } from './frames.ts';
import { openParts } from './open-parts.ts';
import { type Cut, curveByAngle, curveByPlace, levelOf, type SectionCurve, type SectionPoint, topOf } from './section-curve.ts';
import type { UnionSurface } from './union.ts';

/** Share of one body's exposed surface in a horizontal section: its part of (x dy - y dx) / 2 and of the outline's length. */
export interface SectionShare {
  area: number;
  contour: number;
}

/** Sections of one strut after another: `span` gives the heights a strut spans, `begin` takes it and gives them too, `add` its share at one height. */
export interface StrutSection {
  span(strut: number): [number, number];
  begin(strut: number): [number, number];
  add(z: number, share: SectionShare): void;
}

/** A strut's section is known to be open this far (in radii) inside the stretch that no neighbour was seen to reach. */
const MARGIN = 0.05;
const SAMPLES = 40;
/** Where the angle changes by less than this along a stretch (radians) the section is followed by place instead. */
const NARROW = 0.05;
/** Looks for neighbours along a stretch: the widest step in angle, and the fewest looks. */
const STEP = 0.1;
const LEAST = 12;
/** Times as many looks where struts overlap that do not meet: they may hide any narrow part of a section. */
const CROWDED = 8;
/** Longest piece integrated at once: radians of the angle; places are halved. */
const LONGEST = 0.8;

/** The 6-point Gauss-Legendre rule on [-1, 1] (Abramowitz and Stegun, table 25.4). */
const GAUSS_NODE = [-0.932469514203152, -0.661209386466265, -0.238619186083197, 0.238619186083197, 0.661209386466265, 0.932469514203152];
const GAUSS_WEIGHT = [0.17132449237917, 0.360761573048139, 0.467913934572691, 0.467913934572691, 0.360761573048139, 0.17132449237917];

/**
 * The lateral surface meets the plane in a conic. Clear of its neighbours a cylinder's whole ellipse counts, in closed form; near its ends the conic
 * is searched for the places where a neighbour begins or ends, and integrated between them.
 */
export function makeStrutSection({ frames, cover, crowded, gather }: UnionSurface): StrutSection {
  const { data } = frames;
  const times = crowded ? CROWDED : 1;
  const exposure = makeExposure();
  const bounds: number[] = [];
  const cut: Cut = { at: 0, radius: 0, slope: 0, height: 0, rise: 0 };
  const point: SectionPoint = { cosine: 0, sine: 0, t: 0, x: 0, y: 0, dx: 0, dy: 0 };
  const byAngle = curveByAngle(frames, cut);
  let length = 0;
  let free: [from: number, to: number] = [0, 0];

  function span(strut: number): [number, number] {
    const at = STRIDE * strut;
    const reach = data[at + LENGTH];
    const [start, end] = [data[at + 2], data[at + 2] + reach * data[at + AXIS + 2]];
    const radius = Math.max(data[at + RADIUS], data[at + RADIUS] + data[at + SLOPE] * reach);
    return [Math.min(start, end) - radius, Math.max(start, end) + radius];
  }

  function begin(strut: number): [number, number] {
    gather(strut);
    cut.at = STRIDE * strut;
    cut.radius = data[cut.at + RADIUS];
    cut.slope = data[cut.at + SLOPE];
    cut.rise = data[cut.at + AXIS + 2];
    length = data[cut.at + LENGTH];
    free = [0, length];
    for (let k = 0; k < times * SAMPLES; k++) narrow((2 * Math.PI * k) / (times * SAMPLES));
    free = [free[0] + MARGIN * cut.radius, free[1] - MARGIN * cut.radius];
    return span(strut);
  }

  /** Narrows the free stretch to the exposed one that holds the middle of the line at this angle. */
  function narrow(angle: number): void {
    cover.expose(Math.cos(angle), Math.sin(angle), exposure);
    for (let k = 0; k < exposure.count; k++) {
      if (exposure.from[k] > length / 2 || exposure.to[k] < length / 2) continue;
      free = [Math.max(free[0], exposure.from[k]), Math.min(free[1], exposure.to[k])];
      return;
    }
    free = [length, 0];
  }

  function add(z: number, share: SectionShare): void {
    const { radius, slope, rise } = cut;
    cut.height = z - data[cut.at + 2];
    const middle = cut.height / rise;
    const reach = (radius * Math.sqrt(1 - rise * rise)) / Math.abs(rise);
    if (slope === 0 && middle - reach > free[0] && middle + reach < free[1]) {
      share.area += (Math.PI * radius * radius) / Math.abs(rise);
      share.contour += ellipsePerimeter(radius / Math.abs(rise), radius);
    } else if (free[0] < free[1]) {
      addBetween(0, free[0], false, share);
      addBetween(free[0], free[1], true, share);
      addBetween(free[1], length, false, share);
    } else addBetween(0, length, false, share);
  }

  /** Adds what is open of the section between two places along the strut; `known`: all of it is. */
  function addBetween(from: number, to: number, known: boolean, share: SectionShare): void {
    const level = levelOf(data, cut.at);
    const [qa, qb] = [from, to].map((t) => (cut.height - t * cut.rise) / (level * (cut.radius + cut.slope * t)));
    if (Math.abs(qa) < 1 && Math.abs(qb) < 1 && Math.abs(Math.acos(qa) - Math.acos(qb)) < NARROW) {
      // The angle grows to the right of a strut seen from above along its axis: there its own sense is the outline's.
      for (const side of [1, -1]) addOpen(curveByPlace(frames, cut, side), from, to, LEAST, known ? 2 : 1, known, side, share);
      return;
    }
    for (const [a, b] of arcsBetween(qa, qb)) {
      const sense = Math.sign(cut.rise + cut.slope * level * Math.cos((a + b) / 2 - topOf(data, cut.at)));
      addOpen(byAngle, a, b, Math.max(LEAST, Math.ceil((b - a) / STEP)), Math.ceil((b - a) / LONGEST), known, sense, share);
    }
  }

  /** Arcs of the angle on which the line crosses the plane between two places, where cos(phi - top) would have to be qa and qb. */
  function arcsBetween(qa: number, qb: number): Arc[] {
    const top = topOf(data, cut.at);
    bounds.length = 0;
    for (const q of [qa, qb]) if (Math.abs(q) < 1) bounds.push(Math.acos(q), 2 * Math.PI - Math.acos(q));
    bounds.sort((p, q) => p - q);
    if (bounds.length === 0) bounds.push(0);
    const arcs: Arc[] = [];
    for (let k = 0; k < bounds.length; k++) {
      const next = k + 1 < bounds.length ? bounds[k + 1] : bounds[0] + 2 * Math.PI;
      const cosine = Math.cos((bounds[k] + next) / 2);
      if ((cosine - qa) * (cosine - qb) < 0) arcs.push([top + bounds[k], top + next]);
    }
    return arcs;
  }

  function addOpen(
    curve: SectionCurve,
    a: number,
    b: number,
    looks: number,
    parts: number,
    known: boolean,
    sense: number,
    share: SectionShare,
  ): void {
    const clear = (parameter: number): number => {
      curve(parameter, point);
      return cover.clearance(point.cosine, point.sine, point.t);
    };
    const integrate = (from: number, to: number) =>
      addArc(curve, from, to, Math.max(1, Math.ceil((parts * (to - from)) / (b - a))), sense, share);
    if (known) integrate(a, b);
    else openParts(clear, a, b, times * looks, integrate);
  }

  /** Adds (x dy - y dx) / 2 and the length along an open part; sense 1 where the solid lies on its left, seen from above. */
  function addArc(curve: SectionCurve, a: number, b: number, parts: number, sense: number, share: SectionShare): void {
    const half = (b - a) / (2 * parts);
    let area = 0;
    let contour = 0;
    for (let p = 0; p < parts; p++) {
      for (let g = 0; g < GAUSS_NODE.length; g++) {
        curve(a + (2 * p + 1 + GAUSS_NODE[g]) * half, point);
        area += GAUSS_WEIGHT[g] * (point.x * point.dy - point.y * point.dx);
        contour += GAUSS_WEIGHT[g] * Math.sqrt(point.dx * point.dx + point.dy * point.dy);
      }
    }
    share.area += (sense * half * area) / 2;
    share.contour += half * contour;
  }

  return { span, begin, add };
}

/** Perimeter of an ellipse with semi-axes a and b (Ramanujan 1914, second formula): within 1e-5 up to a / b = 5. */
function ellipsePerimeter(a: number, b: number): number {
  const h = ((a - b) / (a + b)) ** 2;
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}
