import { move, type Placement } from '../frame/index.ts';

/** An equilibrium on the way. */
export interface PathPoint {
  readonly placement: Placement;
  readonly deflectionMm: number;
  /** How many nodes touch the plates. */
  readonly touching: number;
}

/** Moves on along the line through the last two placements, or the parabola through three where the same nodes touched throughout. */
export function extrapolate(path: readonly PathPoint[], deflectionMm: number, placement: Placement): void {
  if (path.length < 2) return;
  const [b, c] = path.slice(-2);
  const [h, h2] = [deflectionMm - c.deflectionMm, c.deflectionMm - b.deflectionMm];
  const moves = movesBetween(b.placement, c.placement).map((each) => (each * h) / h2);
  if (path.length > 2 && path.every(({ touching }) => touching === c.touching)) {
    // Divided differences; spins are small enough to add.
    const [a] = path;
    const h1 = b.deflectionMm - a.deflectionMm;
    const bend = (h * (h + h2)) / (h1 + h2);
    movesBetween(a.placement, b.placement).forEach((each, k) => (moves[k] += bend * (moves[k] / h - each / h1)));
  }
  move(c.placement, moves, 1, placement);
}

/** Shifts and rotation vectors from one placement to another, turns below a half circle. */
function movesBetween(a: Placement, b: Placement): Float64Array {
  const moves = new Float64Array(2 * a.positions.length);
  for (let v = 0; v < a.positions.length / 3; v++) {
    for (let i = 0; i < 3; i++) moves[6 * v + i] = b.positions[3 * v + i] - a.positions[3 * v + i];
    // Twice the sine of the angle about its axis, and the trace, of b a'.
    let trace = 0;
    for (let i = 0; i < 3; i++) {
      const [j, k] = [(i + 1) % 3, (i + 2) % 3];
      for (let c = 0; c < 3; c++) {
        const at = 9 * v + c;
        trace += b.rotations[at + 3 * i] * a.rotations[at + 3 * i];
        moves[6 * v + 3 + i] += b.rotations[at + 3 * k] * a.rotations[at + 3 * j] - b.rotations[at + 3 * j] * a.rotations[at + 3 * k];
      }
    }
    const sine = Math.hypot(moves[6 * v + 3], moves[6 * v + 4], moves[6 * v + 5]) / 2;
    const scale = sine > 1e-12 ? Math.atan2(sine, (trace - 1) / 2) / (2 * sine) : 0.5;
    for (let i = 3; i < 6; i++) moves[6 * v + i] *= scale;
  }
  return moves;
}
