import type { Orientation } from '../tiling/index.ts';

/** How the struts of a layer, or the links, depart from one diameter. */
export interface Shaping {
  /** Diameter at mid-span over diameter at the ends. */
  readonly taper?: number;
  /** The diameter times a factor that runs straight from one side of the object to the other along an axis. */
  readonly gradient?: { readonly axis: 'x' | 'y' | 'z'; readonly fromFactor: number; readonly toFactor: number };
}

/** The contract's parameter set: lengths in mm. */
export interface ParameterSet {
  readonly carrier: { readonly shape: 'sphere'; readonly outsideDiameterMm: number };
  readonly tiling: {
    readonly kind: 'goldberg';
    readonly m: number;
    readonly n: number;
    readonly relaxation: 'none' | 'equal-edges' | 'equal-areas';
    readonly orientation: Orientation;
  };
  readonly layers: readonly (Shaping & { readonly depthMm: number; readonly strutDiameterMm: number })[];
  readonly links: Shaping & { readonly pattern: 'posts' | 'braced' | 'none'; readonly strutDiameterMm?: number };
}

/** Largest diameter that a shaping makes of one, anywhere. */
export const thickest = (diameter: number, { taper, gradient }: Shaping): number =>
  diameter * Math.max(1, taper ?? 1) * (gradient ? Math.max(gradient.fromFactor, gradient.toFactor) : 1);

/** Factor of a gradient at a place, in an object of the given outside radius; 1 without one. */
export function gradientFactor({ gradient }: Shaping, outsideRadius: number, place: ArrayLike<number>): number {
  if (!gradient) return 1;
  const along = place['xyz'.indexOf(gradient.axis)] / outsideRadius;
  return (gradient.fromFactor * (1 - along) + gradient.toFactor * (1 + along)) / 2;
}
