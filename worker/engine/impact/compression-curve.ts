import type { Relaxation } from './relaxation.ts';

export interface CurvePoint {
  readonly deflectionMm: number;
  readonly forceN: number;
}

/** Slope of the straight line of least squares through all points up to a deflection, the origin among them; null with fewer than two points. */
export function initialSlope(curve: readonly CurvePoint[], toMm: number): number | null {
  const points = curve.filter(({ deflectionMm }) => deflectionMm <= toMm * (1 + 1e-9));
  if (points.length < 2) return null;
  const mean = (pick: (point: CurvePoint) => number) => points.reduce((sum, point) => sum + pick(point), 0) / points.length;
  const [d, f] = [mean((point) => point.deflectionMm), mean((point) => point.forceN)];
  const [up, across] = [mean((p) => (p.deflectionMm - d) * (p.forceN - f)), mean((p) => (p.deflectionMm - d) ** 2)];
  return up / across;
}

/** Force at a deflection on the line from point to point; null beyond the curve. */
export function forceAt(curve: readonly CurvePoint[], deflectionMm: number): number | null {
  for (let k = 1; k < curve.length; k++) {
    const [a, b] = [curve[k - 1], curve[k]];
    if (deflectionMm > b.deflectionMm * (1 + 1e-9)) continue;
    return a.forceN + ((b.forceN - a.forceN) * (deflectionMm - a.deflectionMm)) / (b.deflectionMm - a.deflectionMm);
  }
  return null;
}

export interface Loop {
  /** From the largest deflection back to where the force is gone. */
  readonly unloading: readonly CurvePoint[];
  /** Area between loading and unloading over the area below loading. */
  readonly loopPct: number;
}

/**
 * Loading and unloading at one speed (mm/s) of a part with relaxation, from its slow curve f: F(t) = f + sum c_b int exp(-(t - s) / time_b) df, c_b the
 * branch's modulus over that of the slow curve (quasi-linear viscoelasticity, Fung 1972). Exact where all deformations keep their proportion, as all
 * struts relax alike. Plates do not pull: unloading ends at zero force.
 */
export function loopOf(slow: readonly CurvePoint[], { longTermMPa, branches }: Relaxation, slowMPa: number, speedMmS: number): Loop | null {
  if (slow.length < 2) return null;
  const held = new Float64Array(branches.length);
  const there = slow.map((point, k) => (k === 0 ? point : advance(slow[k - 1], point)));
  const unloading = [there[there.length - 1]];
  for (let k = slow.length - 1; k > 0; k--) {
    const [last, next] = [unloading[unloading.length - 1], advance(slow[k], slow[k - 1])];
    if (next.forceN > 0) {
      unloading.push(next);
      continue;
    }
    const share = last.forceN / (last.forceN - next.forceN);
    unloading.push({ deflectionMm: last.deflectionMm + share * (next.deflectionMm - last.deflectionMm), forceN: 0 });
    break;
  }
  const loaded = areaBelow(there);
  return { unloading, loopPct: (100 * (loaded + areaBelow(unloading))) / loaded };

  function advance(from: CurvePoint, to: CurvePoint): CurvePoint {
    const time = Math.abs(to.deflectionMm - from.deflectionMm) / speedMmS;
    let forceN = to.forceN;
    branches.forEach(({ ratio, timeS }, b) => {
      const keep = Math.exp(-time / timeS);
      held[b] = keep * held[b] + (to.forceN - from.forceN) * (timeS / time) * -Math.expm1(-time / timeS);
      forceN += ((ratio * longTermMPa) / slowMPa) * held[b];
    });
    return { deflectionMm: to.deflectionMm, forceN };
  }
}

/** Work along the points, N mm; negative on the way back. */
export function areaBelow(curve: readonly CurvePoint[]): number {
  let area = 0;
  for (let k = 1; k < curve.length; k++) {
    area += ((curve[k].forceN + curve[k - 1].forceN) / 2) * (curve[k].deflectionMm - curve[k - 1].deflectionMm);
  }
  return area;
}
