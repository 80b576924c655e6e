import { makeExposure } from './cover.ts';
import { AXIS, LENGTH, RADIUS, SIDE1, SIDE2, SLOPE, STRIDE } from './frames.ts';
import type { UnionSurface } from './union.ts';

/** Share of one body's exposed surface in a horizontal section: its part of (x dy - y dx) / 2 and of the outline's length. */
export interface SectionShare {
  area: number;
  contour: number;
}

/** A strut's section is known in closed form this far (in radii) inside the stretch that no neighbour was seen to reach. */
const MARGIN = 0.05;
const SAMPLES = 40;
/** Widest step (radians) between looks for a neighbour along the section, and the fewest looks on an arc. */
const STEP = 0.1;
const LEAST = 12;
/** A level strut is sectioned as if it rose by this much per mm: its section would otherwise have no single point per angle. */
const LEVEL = 1e-9;
const ROOT = 1e-12;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Nodes and weights of the 6-point Gauss-Legendre rule on [-1, 1] (Abramowitz and Stegun, table 25.4). */
const GAUSS: readonly (readonly [number, number])[] = [
  [-0.932469514203152, 0.17132449237917],
  [-0.661209386466265, 0.360761573048139],
  [-0.238619186083197, 0.467913934572691],
  [0.238619186083197, 0.467913934572691],
  [0.661209386466265, 0.360761573048139],
  [0.932469514203152, 0.17132449237917],
];

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
  const angles: number[] = [];
  const values: number[] = [];
  let at = 0;
  // Radius, slope, length, height of the start, rise per mm, and the free stretch [from, to] of the strut at hand.
  const own = new Float64Array(7);

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
    const [radius, slope, , start, rise, from, to] = own;
    const level = Math.sqrt(1 - rise * rise);
    const middle = (z - start) / rise;
    const reach = (radius * level) / Math.abs(rise) + MARGIN * radius;
    if (slope === 0 && middle - reach > from && middle + reach < to) {
      share.area += (Math.PI * radius * radius) / Math.abs(rise);
      share.contour += ellipsePerimeter(radius / Math.abs(rise), radius);
      return;
    }
    for (const [a, b] of arcsWithin(z)) addExposed(z, a, b, share);
  }

  /** Arcs of the angle on which the line crosses the plane between its ends. */
  function arcsWithin(z: number): [number, number][] {
    const [radius, slope, length, start, rise] = own;
    const level = Math.hypot(data[at + SIDE1 + 2], data[at + SIDE2 + 2]);
    const top = Math.atan2(data[at + SIDE2 + 2], data[at + SIDE1 + 2]);
    const end = radius + slope * length;
    bounds.length = 0;
    for (const cosine of [(z - start) / (radius * level), (z - start - length * rise) / (end * level)]) {
      if (Math.abs(cosine) < 1) bounds.push(Math.acos(cosine), 2 * Math.PI - Math.acos(cosine));
    }
    bounds.sort((p, q) => p - q);
    if (bounds.length === 0) bounds.push(0);
    const arcs: [number, number][] = [];
    for (let k = 0; k < bounds.length; k++) {
      const next = k + 1 < bounds.length ? bounds[k + 1] : bounds[0] + 2 * Math.PI;
      const height = level * Math.cos((bounds[k] + next) / 2);
      const [low, high] = [start + radius * height, start + length * rise + end * height];
      if ((low - z) * (high - z) < 0) arcs.push([top + bounds[k], top + next]);
    }
    return arcs;
  }

  /** Integrates the parts of an arc that lie outside all neighbours. */
  function addExposed(z: number, a: number, b: number, share: SectionShare): void {
    const count = look(z, a, b);
    let open = values[0] > 0;
    let opened = a;
    for (let k = 1; k < count; k++) {
      if (values[k] > 0 === open) continue;
      const root = change(z, angles[k - 1], angles[k], values[k - 1], values[k]);
      if (open) addArc(z, opened, root, share);
      else opened = root;
      open = !open;
    }
    if (open) addArc(z, opened, b, share);
  }

  /** Looks along an arc at even steps, and between them where the clearance has an extremum that may reach past zero. Returns the number. */
  function look(z: number, a: number, b: number): number {
    const steps = Math.max(LEAST, Math.ceil((b - a) / STEP));
    angles.length = 0;
    values.length = 0;
    let [before, here] = [0, 0];
    for (let k = 0; k <= steps; k++) {
      // The ends of the arc lie in the strut's own end discs, inside the nodes' spheres: looked at a little way in.
      const angle = a + (b - a) * Math.min(1 - 1e-9, Math.max(1e-9, k / steps));
      const after = clear(z, angle);
      const sign = Math.sign(here);
      if (k > 1 && sign * before > 0 && sign * after > 0 && sign * here <= sign * before && sign * here <= sign * after) {
        turn(z, angles[angles.length - 1], (b - a) / steps, sign, 2 * Math.max(Math.abs(before - here), Math.abs(after - here)));
      }
      angles.push(angle);
      values.push(after);
      before = here;
      here = after;
    }
    return angles.length;
  }

  /** Golden-section search for a sign change around the look at `middle`, whose value of that sign turns towards zero; adds it in order if there is one. */
  function turn(z: number, middle: number, step: number, sign: number, reach: number): void {
    const at = angles.length - 1;
    if (Math.abs(values[at]) > reach) return;
    let [low, high] = [middle - step, middle + step];
    for (let k = 0; k < 16; k++) {
      const [p, q] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
      const [fp, fq] = [sign * clear(z, p), sign * clear(z, q)];
      if (fp < 0 || fq < 0) {
        const [angle, value] = fp < 0 ? [p, fp] : [q, fq];
        const place = angle < middle ? at : at + 1;
        angles.splice(place, 0, angle);
        values.splice(place, 0, sign * value);
        return;
      }
      if (fp < fq) high = q;
      else low = p;
    }
  }

  function clear(z: number, angle: number): number {
    const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
    const height = data[at + SIDE1 + 2] * cosine + data[at + SIDE2 + 2] * sine;
    return cover.clearance(cosine, sine, (z - own[3] - own[0] * height) / (own[4] + own[1] * height));
  }

  /** Where the clearance changes sign between two looks: false position, with the Illinois correction. */
  function change(z: number, a: number, b: number, fa: number, fb: number): number {
    for (let k = 0; k < 60 && Math.abs(b - a) > ROOT; k++) {
      const x = (a * fb - b * fa) / (fb - fa);
      const fx = clear(z, x);
      if (Math.abs(fx) < ROOT) return x;
      if (fx * fb < 0) {
        a = b;
        fa = fb;
      } else fa /= 2;
      b = x;
      fb = fx;
    }
    return b;
  }

  /** Adds (x dy - y dx) / 2 and the length along an exposed arc, turned so that the solid lies on its left seen from above. */
  function addArc(z: number, a: number, b: number, share: SectionShare): void {
    const [radius, slope, , start, rise] = own;
    const parts = Math.ceil((b - a) / 0.8);
    const half = (b - a) / (2 * parts);
    for (let p = 0; p < parts; p++) {
      for (const [node, weight] of GAUSS) {
        const angle = a + (2 * p + 1 + node) * half;
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const ez = data[at + SIDE1 + 2] * c + data[at + SIDE2 + 2] * s;
        const turn = data[at + SIDE2 + 2] * c - data[at + SIDE1 + 2] * s;
        const steep = rise + slope * ez;
        const t = (z - start - radius * ez) / steep;
        const dt = -((radius + slope * t) * turn) / steep;
        const reach = radius + slope * t;
        const along = (k: number) => {
          const e = data[at + SIDE1 + k] * c + data[at + SIDE2 + k] * s;
          const f = data[at + SIDE2 + k] * c - data[at + SIDE1 + k] * s;
          return [data[at + k] + t * data[at + AXIS + k] + reach * e, dt * (data[at + AXIS + k] + slope * e) + reach * f];
        };
        const [x, dx] = along(0);
        const [y, dy] = along(1);
        share.area += (Math.sign(steep) * weight * half * (x * dy - y * dx)) / 2;
        share.contour += weight * half * Math.hypot(dx, dy);
      }
    }
  }

  return { begin, add };
}

/** Perimeter of an ellipse with semi-axes a and b (Ramanujan 1914, second formula): within 1e-5 up to a / b = 5. */
function ellipsePerimeter(a: number, b: number): number {
  const h = ((a - b) / (a + b)) ** 2;
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}
