export { type Bias, type CalibrationProblem, calibrate, type Fit, type Observation } from './fit.ts';
export { type Identifiability, identify, type Told } from './identify.ts';
export type { Square } from './matrix.ts';
export { type Aim, type Candidate, type Judged, judgeCandidates, type NextPrint, type Noise, nextPrint } from './next-print.ts';
export { lnSlopes, type Prediction, predict, spread } from './predict.ts';
export { checkResiduals, normalityOf, type ResidualChecks, runsOf } from './residual-checks.ts';
export { lnPredicted, type Probes, type Response, responseThrough, type VersionResponse } from './response.ts';
export { type Belief, type Beliefs, coordinatesOf, UNKNOWNS, type Unknown, USUAL_BELIEFS, type Values, valuesOf } from './unknowns.ts';
