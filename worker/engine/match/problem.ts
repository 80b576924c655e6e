import type { Target } from '../targets.ts';

/** A number to be found between two bounds, whole steps from the lower one where a step is given. */
export interface FreeNumber {
  readonly path: string;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  /** Where the search begins. */
  readonly start: number;
}

export interface SearchProblem {
  readonly numbers: readonly FreeNumber[];
  /** How many choices each free choice has; every combination is a way of its own. */
  readonly choices: readonly number[];
  readonly targets: readonly (Target & { readonly weight?: number })[];
  /** Hard limits: what misses one is no solution. */
  readonly limits: readonly Target[];
  /** Whether a part that fails its printability checks is no solution. */
  readonly printable: boolean;
  /** What the solutions are ranked by, the least first unless the most is wanted. */
  readonly objective: string;
  readonly mostFirst?: boolean;
  /** Whether to go on from solutions to better ones, until the objective settles. */
  readonly settles?: boolean;
  /** Most points that may be evaluated. */
  readonly budget: number;
  /** Diameters that share the mass: those of all layers and the links. */
  readonly diameters: number;
}

/** One parameter set: which choice of each, and the value of each number. */
export interface Point {
  readonly choices: readonly number[];
  readonly numbers: readonly number[];
}

/** What came of a point. null: it could not be evaluated to its end. */
export interface Outcome {
  /** By quantity: those of the targets, the limits and the objective. */
  readonly values: Readonly<Record<string, number | null>>;
  readonly printable: boolean;
}

export interface Trial {
  readonly point: Point;
  readonly outcome: Outcome | null;
}

export const keyOf = ({ choices, numbers }: Point): string => JSON.stringify([choices, numbers]);
