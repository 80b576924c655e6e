export { type Branch, type Relaxation, type RelaxationOutcome, relaxationOf, response, type Viscoelastic } from './relaxation.ts';
