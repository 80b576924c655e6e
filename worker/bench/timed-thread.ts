import runEngine, { type EngineAnswer, type EngineTask } from '../engine-thread.ts';
import { tellingTime } from './engine-times.ts';

/** The engine's thread as it is, which also tells what each run took. */
export default (task: EngineTask): Promise<EngineAnswer> => tellingTime(() => runEngine(task));
