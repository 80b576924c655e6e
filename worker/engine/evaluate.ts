/** Placeholder signature while the rooms are being built: see the types below. */
export interface EvaluationHooks {
  /** Called at the start of every stage with its name and the share of the whole work done so far (0 to 1). */
  onStage?(stage: string, done: number): void;
  /** Polled between and inside stages; true ends the evaluation as cancelled. */
  isCancelled?(): boolean;
}
