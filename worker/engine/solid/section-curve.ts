import { AXIS, type Frames, SIDE1, SIDE2 } from './frames.ts';

/** A point of a strut's section: angle's cosine and sine, place t along the strut; x, y and their derivatives by the curve's parameter. */
export interface SectionPoint {
  cosine: number;
  sine: number;
  t: number;
  x: number;
  y: number;
  dx: number;
  dy: number;
}

/** Sets `point` at a value of the parameter. */
export type SectionCurve = (parameter: number, point: SectionPoint) => void;

/** The strut and plane at hand: offset of the strut's data, radius, slope, height of the plane over the strut's start, rise per mm. */
export interface Cut {
  at: number;
  radius: number;
  slope: number;
  height: number;
  rise: number;
}

/** Largest and steepest of cos(phi - top): the height of a generator line over the axis, per mm of radius. */
export const levelOf = (data: Float64Array, at: number): number => Math.hypot(data[at + SIDE1 + 2], data[at + SIDE2 + 2]);
/** Angle of the highest generator line. */
export const topOf = (data: Float64Array, at: number): number => Math.atan2(data[at + SIDE2 + 2], data[at + SIDE1 + 2]);

/** The section by angle phi, where t = (height - r ez) / (rise + slope ez): good where the strut rises. */
export function curveByAngle({ data }: Frames, cut: Cut): SectionCurve {
  return (angle, point) => {
    const { at, radius, slope } = cut;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    const ez = data[at + SIDE1 + 2] * c + data[at + SIDE2 + 2] * s;
    const fz = data[at + SIDE2 + 2] * c - data[at + SIDE1 + 2] * s;
    const steep = cut.rise + slope * ez;
    const t = (cut.height - radius * ez) / steep;
    const reach = radius + slope * t;
    const dt = -(reach * fz) / steep;
    point.cosine = c;
    point.sine = s;
    point.t = t;
    place(data, at, c, s, t, reach, slope, dt, 1, point);
  };
}

/**
 * The section by place t along a strut that hardly rises, on one side of it (side 1 or -1): cos(phi - top) = q = (height - t rise) / (level reach),
 * so e turns by dphi = -side dq / sqrt(1 - q^2).
 */
export function curveByPlace({ data }: Frames, cut: Cut, side: number): SectionCurve {
  const level = levelOf(data, cut.at);
  const top = topOf(data, cut.at);
  const [cosTop, sinTop] = [Math.cos(top), Math.sin(top)];
  return (t, point) => {
    const { at, radius, slope } = cut;
    const reach = radius + slope * t;
    const q = (cut.height - t * cut.rise) / (level * reach);
    const p = side * Math.sqrt(Math.max(0, 1 - q * q));
    const c = cosTop * q - sinTop * p;
    const s = sinTop * q + cosTop * p;
    point.cosine = c;
    point.sine = s;
    point.t = t;
    place(data, at, c, s, t, reach, slope, 1, (cut.rise / level + q * slope) / (reach * p), point);
  };
}

/** x = P + t u + reach e along x and y, and its derivative for changes dt and dphi per unit of the parameter. */
function place(
  data: Float64Array,
  at: number,
  c: number,
  s: number,
  t: number,
  reach: number,
  slope: number,
  dt: number,
  dphi: number,
  point: SectionPoint,
): void {
  const ex = data[at + SIDE1] * c + data[at + SIDE2] * s;
  const ey = data[at + SIDE1 + 1] * c + data[at + SIDE2 + 1] * s;
  const fx = data[at + SIDE2] * c - data[at + SIDE1] * s;
  const fy = data[at + SIDE2 + 1] * c - data[at + SIDE1 + 1] * s;
  point.x = data[at] + t * data[at + AXIS] + reach * ex;
  point.y = data[at + 1] + t * data[at + AXIS + 1] + reach * ey;
  point.dx = dt * (data[at + AXIS] + slope * ex) + dphi * reach * fx;
  point.dy = dt * (data[at + AXIS + 1] + slope * ey) + dphi * reach * fy;
}
