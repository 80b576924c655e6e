/** Area and contour of each build layer of one part, bottom to top, as designed (before shrinkage compensation). */
export interface LayerProfile {
  /** Layer thickness, mm. */
  readonly layerMm: number;
  /** Height of the bottom of the first layer, mm. */
  readonly zMinMm: number;
  /** Mean section area within each layer, mm2. */
  readonly areaMm2: Float64Array;
  /** Mean contour length within each layer, mm. */
  readonly contourMm: Float64Array;
}
