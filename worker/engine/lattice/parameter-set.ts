import type { Orientation } from '../tiling/index.ts';

/** The contract's parameter set: lengths in mm. */
export interface ParameterSet {
  readonly carrier: { readonly shape: 'sphere'; readonly outsideDiameterMm: number };
  readonly tiling: {
    readonly kind: 'goldberg';
    readonly m: number;
    readonly n: number;
    readonly relaxation: 'none' | 'equal-edges';
    readonly orientation: Orientation;
  };
  readonly layers: readonly { readonly depthMm: number; readonly strutDiameterMm: number }[];
  readonly links: { readonly pattern: 'posts' | 'none'; readonly strutDiameterMm?: number };
}
