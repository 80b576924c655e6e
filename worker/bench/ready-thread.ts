import runEngine, { type EngineAnswer, type EngineTask } from '../engine-thread.ts';

let first: EngineAnswer | undefined;

/** Answers every task with what the engine gave for this thread's first: all that surrounds the engine is done, the engine is not run. */
export default function answerAtOnce(task: EngineTask): EngineAnswer {
  first ??= runEngine(task);
  if (first.kind !== 'done') return first;
  return { ...first, result: { ...first.result, engine: { ...first.result.engine, inputHash: task.inputHash } } };
}
