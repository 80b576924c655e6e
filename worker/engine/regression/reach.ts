import { orthogonal, product, weights } from './orthogonal.ts';

/**
 * How far out points lie among these: leverage of a polynomial of first degree, h = (1, x) (X^T X)^-1 (1, x)^T. What lies further out than every point
 * extrapolates, though each axis by itself may be within its range (Montgomery, Peck and Vining 2012, section 3.8).
 */
export function reach(points: readonly Float64Array[]): { most: number; of(point: Float64Array): number } {
  const row = (x: Float64Array) => Float64Array.of(1, ...x);
  const basis = orthogonal(Array.from({ length: points[0].length + 1 }, (_, k) => Float64Array.from(points, (each) => row(each)[k])));
  const of = (point: Float64Array) => {
    const w = weights(basis, row(point));
    return product(w, w);
  };
  return { most: points.reduce((most, each) => Math.max(most, of(each)), 0), of };
}
