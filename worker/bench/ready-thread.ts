import runEngine, { type EngineAnswer, type EngineTask } from '../engine-thread.ts';

let first: EngineAnswer | undefined;

/** Answers every task with what the engine gave for this thread's first: all that surrounds the engine is done, the engine is not run. */
export default async function answerAtOnce(task: EngineTask): Promise<EngineAnswer> {
  first ??= await runEngine(task);
  if (first.kind !== 'done' || !('engine' in first.result)) return first;
  const { result } = first;
  return { ...first, result: { ...result, engine: { ...result.engine, inputHash: task.inputHash } } };
}
