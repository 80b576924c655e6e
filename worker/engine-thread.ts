import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import type { ResolvedInput } from '../openapi/evaluation.ts';
import type { Result } from '../openapi/result.ts';
import type { NewFile, RunError } from '../prisma/index.ts';
import { evaluate, graphJson } from './engine/index.ts';
import { type EngineBoard, isAskedToCancel, noteStage } from './engine-board.ts';
import { latticeThreeMf } from './lattice-file.ts';

/** What a run hands to an engine thread. */
export interface EngineTask {
  input: ResolvedInput;
  inputHash: string;
  board: EngineBoard;
}

/** `defect`: the engine threw, which it never should; the trace is for the log only. */
export type EngineAnswer =
  | { kind: 'done'; result: Result; files: NewFile[] }
  | { kind: 'failed'; error: RunError }
  | { kind: 'cancelled' }
  | { kind: 'defect'; trace: string };

/** Runs one evaluation on this thread: result and files, everything that takes time done here. Never throws. */
export default function runEngine({ input, inputHash, board }: EngineTask): EngineAnswer {
  try {
    const outcome = evaluate(input, {
      onStage: (stage, done) => noteStage(board, stage, done),
      isCancelled: () => isAskedToCancel(board),
    });
    if (outcome.kind !== 'done') return outcome;
    return {
      kind: 'done',
      result: { engine: { version: ENGINE_VERSION, inputHash }, ...outcome.result },
      files: [
        { name: 'graph.json', mediaType: 'application/json', content: JSON.stringify(graphJson(outcome.graph)) },
        { name: 'lattice.3mf', mediaType: 'model/3mf', content: latticeThreeMf(outcome.graph) },
      ],
    };
  } catch (error) {
    return { kind: 'defect', trace: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}
