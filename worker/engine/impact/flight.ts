import { GRAVITY_MM_S2 } from './prepare.ts';

/** Air drag of a sphere: 1/2 density coefficient area v^2. */
export interface Drag {
  readonly coefficient: number;
  readonly airDensityKgM3: number;
  readonly diameterMm: number;
}

const T_MM3_PER_KG_M3 = 1e-12;

/** k of the drag k v^2, N s2/mm2; 0 without. */
const factorOf = (drag: Drag | null): number =>
  drag ? (Math.PI / 8) * drag.coefficient * drag.airDensityKgM3 * T_MM3_PER_KG_M3 * drag.diameterMm ** 2 : 0;

/** Speed (mm/s) after a fall from rest through a height: v^2 = (m g / k) (1 - exp(-2 k h / m)), sqrt(2 g h) without drag. */
export function fallSpeed(heightMm: number, massT: number, drag: Drag | null): number {
  const k = factorOf(drag);
  const square = k > 0 ? ((massT * GRAVITY_MM_S2) / k) * -Math.expm1((-2 * k * heightMm) / massT) : 2 * GRAVITY_MM_S2 * heightMm;
  return Math.sqrt(square);
}

/** Height (mm) to which a speed straight up carries: m / (2 k) ln(1 + k v^2 / (m g)), v^2 / (2 g) without drag. */
export function riseMm(speed: number, massT: number, drag: Drag | null): number {
  const k = factorOf(drag);
  if (k === 0) return speed ** 2 / (2 * GRAVITY_MM_S2);
  return (massT / (2 * k)) * Math.log1p((k * speed ** 2) / (massT * GRAVITY_MM_S2));
}
