import { keyOf, type Outcome, type Point, type Trial } from './problem.ts';

/** What yields points that it wants evaluated and is sent their outcomes, in the same order. */
export type Asks<T> = Generator<readonly Point[], T, readonly (Outcome | null)[]>;

/** What was tried: each point once, however often it is asked for. */
export interface Trials {
  /** In the order they were asked for. */
  readonly all: readonly Trial[];
  has(point: Point): boolean;
  /** null also for a point that could not be evaluated to its end. */
  outcomeAt(point: Point): Outcome | null;
  ask(points: readonly Point[]): Asks<void>;
}

export function openTrials(): Trials {
  const all: Trial[] = [];
  const known = new Map<string, Outcome | null>();
  return {
    all,
    has: (point) => known.has(keyOf(point)),
    outcomeAt: (point) => known.get(keyOf(point)) ?? null,
    *ask(points) {
      const fresh = [...new Map(points.map((point) => [keyOf(point), point])).values()].filter((point) => !known.has(keyOf(point)));
      if (fresh.length === 0) return;
      const outcomes = yield fresh;
      fresh.forEach((point, k) => {
        known.set(keyOf(point), outcomes[k]);
        all.push({ point, outcome: outcomes[k] });
      });
    },
  };
}
