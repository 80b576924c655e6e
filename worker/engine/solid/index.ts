export { unionMoments, unionSurface } from './union.ts';
