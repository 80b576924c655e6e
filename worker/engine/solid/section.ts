import type { Arc } from './caps.ts';
import { makeExposure } from './cover.ts';
import { AXIS, LENGTH, RADIUS, SIDE1, SIDE2, SLOPE, STRIDE } from './frames.ts';
import { makeOpenArcs } from './open-arcs.ts';
import type { UnionSurface } from './union.ts';

/** Share of one body's exposed surface in a horizontal section: its part of (x dy - y dx) / 2 and of the outline's length. */
export interface SectionShare {
  area: number;
  contour: number;
}

/** A strut's section is known in closed form this far (in radii) inside the stretch that no neighbour was seen to reach. */
const MARGIN = 0.05;
const SAMPLES = 40;
/** A level strut is sectioned as if it rose by this much per mm: its section would otherwise have no single point per angle. */
const LEVEL = 1e-7;
/** Nodes and weights of the 6-point Gauss-Legendre rule on [-1, 1] (Abramowitz and Stegun, table 25.4). */
const GAUSS_NODE = [-0.932469514203152, -0.661209386466265, -0.238619186083197, 0.238619186083197, 0.661209386466265, 0.932469514203152];
const GAUSS_WEIGHT = [0.17132449237917, 0.360761573048139, 0.467913934572691, 0.467913934572691, 0.360761573048139, 0.17132449237917];

/** Sections of one strut after another: `begin` takes a strut and gives the heights it spans, `add` its share at one height. */
export interface StrutSection {
  begin(strut: number): [number, number];
  add(z: number, share: SectionShare): void;
}

/**
 * The lateral surface meets the plane in a conic, one point for each angle phi: t = (z - Pz - r ez) / (uz + slope ez). Clear of its neighbours
 * a cylinder's whole ellipse counts, in closed form; elsewhere the arcs with 0 <= t <= L are searched for the places where a neighbour begins
 * or ends, and integrated between them.
 */
export function makeStrutSection({ frames: { data }, cover, gather }: UnionSurface): StrutSection {
  const exposure = makeExposure();
  const bounds: number[] = [];
  const openArcs = makeOpenArcs();
  let at = 0;
  // Radius, slope, length, height of the start, rise per mm and free stretch [from, to] of the strut at hand, and the plane's height.
  const own = new Float64Array(8);

  function begin(strut: number): [number, number] {
    gather(strut);
    at = STRIDE * strut;
    const rise = data[at + AXIS + 2];
    own.set([
      data[at + RADIUS],
      data[at + SLOPE],
      data[at + LENGTH],
      data[at + 2],
      Math.abs(rise) < LEVEL ? LEVEL : rise,
      0,
      data[at + LENGTH],
    ]);
    for (let k = 0; k < SAMPLES; k++) narrow((2 * Math.PI * k) / SAMPLES);
    own[5] += MARGIN * own[0];
    own[6] -= MARGIN * own[0];
    const [start, end] = [own[3], own[3] + own[2] * own[4]];
    const radius = Math.max(own[0], own[0] + own[1] * own[2]);
    return [Math.min(start, end) - radius, Math.max(start, end) + radius];
  }

  /** Narrows the free stretch to the exposed one that holds the middle of the line at this angle. */
  function narrow(angle: number): void {
    cover.expose(Math.cos(angle), Math.sin(angle), exposure);
    for (let k = 0; k < exposure.count; k++) {
      if (exposure.from[k] > own[2] / 2 || exposure.to[k] < own[2] / 2) continue;
      own[5] = Math.max(own[5], exposure.from[k]);
      own[6] = Math.min(own[6], exposure.to[k]);
      return;
    }
    own[6] = -1;
  }

  function add(z: number, share: SectionShare): void {
    const radius = own[0];
    const rise = own[4];
    const middle = (z - own[3]) / rise;
    const reach = (radius * Math.sqrt(1 - rise * rise)) / Math.abs(rise);
    if (own[1] === 0 && middle - reach > own[5] && middle + reach < own[6]) {
      share.area += (Math.PI * radius * radius) / Math.abs(rise);
      share.contour += ellipsePerimeter(radius / Math.abs(rise), radius);
      return;
    }
    own[7] = z;
    if (own[5] < own[6]) {
      lookBetween(0, own[5], share);
      for (const [a, b] of arcsBetween(own[5], own[6])) addArc(a, b, share);
      lookBetween(own[6], own[2], share);
    } else lookBetween(0, own[2], share);
  }

  /** Adds what the neighbours leave open of the section between two places along the strut. */
  function lookBetween(from: number, to: number, share: SectionShare): void {
    for (const [a, b] of arcsBetween(from, to)) openArcs(clear, a, b, (p, q) => addArc(p, q, share));
  }

  /** Arcs of the angle on which the line crosses the plane between two places along the strut. */
  function arcsBetween(from: number, to: number): Arc[] {
    const [radius, slope, , start, rise, , , z] = own;
    const level = Math.hypot(data[at + SIDE1 + 2], data[at + SIDE2 + 2]);
    const top = Math.atan2(data[at + SIDE2 + 2], data[at + SIDE1 + 2]);
    // The circle round the place t lies between the heights low(t) +- level * reach(t).
    const [reachA, reachB] = [level * (radius + slope * from), level * (radius + slope * to)];
    const [heightA, heightB] = [z - start - from * rise, z - start - to * rise];
    bounds.length = 0;
    for (const cosine of [heightA / reachA, heightB / reachB]) {
      if (Math.abs(cosine) < 1) bounds.push(Math.acos(cosine), 2 * Math.PI - Math.acos(cosine));
    }
    bounds.sort((p, q) => p - q);
    if (bounds.length === 0) bounds.push(0);
    const arcs: Arc[] = [];
    for (let k = 0; k < bounds.length; k++) {
      const next = k + 1 < bounds.length ? bounds[k + 1] : bounds[0] + 2 * Math.PI;
      const cosine = Math.cos((bounds[k] + next) / 2);
      if ((reachA * cosine - heightA) * (reachB * cosine - heightB) < 0) arcs.push([top + bounds[k], top + next]);
    }
    return arcs;
  }

  /** Clearance of the section's point at one angle. */
  function clear(cosine: number, sine: number): number {
    const height = data[at + SIDE1 + 2] * cosine + data[at + SIDE2 + 2] * sine;
    return cover.clearance(cosine, sine, (own[7] - own[3] - own[0] * height) / (own[4] + own[1] * height));
  }

  /** Adds (x dy - y dx) / 2 and the length along an exposed arc, turned so that the solid lies on its left seen from above. */
  function addArc(a: number, b: number, share: SectionShare): void {
    const radius = own[0];
    const slope = own[1];
    const parts = Math.ceil((b - a) / 0.8);
    const half = (b - a) / (2 * parts);
    let area = 0;
    let contour = 0;
    for (let p = 0; p < parts; p++) {
      for (let g = 0; g < GAUSS_NODE.length; g++) {
        const angle = a + (2 * p + 1 + GAUSS_NODE[g]) * half;
        const c = Math.cos(angle);
        const s = Math.sin(angle);
        // e and its derivative f along x, y, z; t and its derivative from the height of the plane.
        const ex = data[at + SIDE1] * c + data[at + SIDE2] * s;
        const ey = data[at + SIDE1 + 1] * c + data[at + SIDE2 + 1] * s;
        const ez = data[at + SIDE1 + 2] * c + data[at + SIDE2 + 2] * s;
        const fx = data[at + SIDE2] * c - data[at + SIDE1] * s;
        const fy = data[at + SIDE2 + 1] * c - data[at + SIDE1 + 1] * s;
        const fz = data[at + SIDE2 + 2] * c - data[at + SIDE1 + 2] * s;
        const steep = own[4] + slope * ez;
        const t = (own[7] - own[3] - radius * ez) / steep;
        const reach = radius + slope * t;
        const dt = -(reach * fz) / steep;
        const x = data[at] + t * data[at + AXIS] + reach * ex;
        const y = data[at + 1] + t * data[at + AXIS + 1] + reach * ey;
        const dx = dt * (data[at + AXIS] + slope * ex) + reach * fx;
        const dy = dt * (data[at + AXIS + 1] + slope * ey) + reach * fy;
        area += Math.sign(steep) * GAUSS_WEIGHT[g] * (x * dy - y * dx);
        contour += GAUSS_WEIGHT[g] * Math.sqrt(dx * dx + dy * dy);
      }
    }
    share.area += (half * area) / 2;
    share.contour += half * contour;
  }

  return { begin, add };
}

/** Perimeter of an ellipse with semi-axes a and b (Ramanujan 1914, second formula): within 1e-5 up to a / b = 5. */
function ellipsePerimeter(a: number, b: number): number {
  const h = ((a - b) / (a + b)) ** 2;
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}
