/** Deflection in mm and force in N, deflections increasing. */
export type CurvePoint = readonly [deflectionMm: number, forceN: number];

/** What rounding may do to a deflection that was meant to lie at a limit. */
const ROUNDING = 1 + 1e-9;

/** Force at a deflection on the line from point to point; null outside the curve. */
export function forceAt(curve: readonly CurvePoint[], deflectionMm: number): number | null {
  for (let k = 1; k < curve.length; k++) {
    const [[d0, f0], [d1, f1]] = [curve[k - 1], curve[k]];
    if (deflectionMm < d0 || deflectionMm > d1 * ROUNDING) continue;
    return f0 + ((f1 - f0) * (deflectionMm - d0)) / (d1 - d0);
  }
  return null;
}

/** Slope of the straight line of least squares through all points from 0 to a deflection; null with fewer than two. */
export function initialSlope(curve: readonly CurvePoint[], toMm: number): number | null {
  const points = curve.filter(([deflection]) => deflection >= 0 && deflection <= toMm * ROUNDING);
  if (points.length < 2) return null;
  const mean = (pick: (point: CurvePoint) => number) => points.reduce((sum, point) => sum + pick(point), 0) / points.length;
  const [d, f] = [mean(([deflection]) => deflection), mean(([, force]) => force)];
  return mean(([x, y]) => (x - d) * (y - f)) / mean(([x]) => (x - d) ** 2);
}
