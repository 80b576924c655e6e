/** What is expected of a new observation at a point, and one standard deviation of it. */
export type Predictor = (point: Float64Array) => { readonly mean: number; readonly deviation: number };
