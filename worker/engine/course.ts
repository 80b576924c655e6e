export interface EvaluationHooks {
  /** Called at the start of every stage, and in long ones on the way, with its name and the share of the whole work done so far (0 to 1). */
  onStage?(stage: string, done: number): void;
  /** Polled between and inside stages, every few milliseconds; true ends the evaluation as cancelled. */
  isCancelled?(): boolean;
}

/** The way of one evaluation through its stages. */
export interface Course<Stage extends string> {
  /** Begins a stage. Throws Cancelled. */
  enter(stage: Stage): void;
  /** Tells how much of the present stage is done, 0 to 1. Throws Cancelled. */
  reach(share: number): void;
  readonly isCancelled: () => boolean;
  /** To be called every few milliseconds by what cannot end by itself half-way. Throws Cancelled. */
  readonly poll: () => void;
}

/** Thrown by a course, caught by whoever opened it. */
export class Cancelled extends Error {}

/** A course over stages in their order, each with its part of the time (any unit). Stages that are not listed take no time. */
export function openCourse<Stage extends string>(plan: readonly (readonly [Stage, number])[], hooks: EvaluationHooks): Course<Stage> {
  const whole = plan.reduce((sum, [, time]) => sum + time, 0);
  const isCancelled = () => hooks.isCancelled?.() ?? false;
  let [name, before, time] = ['', 0, 0];
  const poll = () => {
    if (isCancelled()) throw new Cancelled();
  };
  const tell = (share: number) => {
    poll();
    hooks.onStage?.(name, (before + share * time) / whole);
  };
  return {
    enter: (stage) => {
      before += time;
      [name, time] = [stage, plan.find(([each]) => each === stage)?.[1] ?? 0];
      tell(0);
    },
    reach: (share) => tell(Math.min(1, Math.max(0, share))),
    isCancelled,
    poll,
  };
}
