export { gridPoint, gridSize } from './grid.ts';
export { latinHypercubePoint } from './latin-hypercube.ts';
export { MOST_DIMENSIONS, sobolPoint } from './sobol.ts';
