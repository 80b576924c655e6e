export type { Factor } from './axes.ts';
export { gaussianProcess, type Hyperparameters, logMarginalLikelihood, type Samples } from './gaussian.ts';
export type { SurfaceData } from './ground.ts';
export { likeliest } from './likeliest.ts';
export { type MainEffects, mainEffects } from './main-effects.ts';
export {
  FEWEST_POINTS,
  fitSurface,
  type SurfaceFit,
  type SurfaceModel,
  type SurfacePrediction,
  surfacePredictor,
} from './surface.ts';
