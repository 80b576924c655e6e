import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import type { ResolvedInput } from '../openapi/evaluation.ts';
import type { Result } from '../openapi/result.ts';
import type { NewFile, RunError } from '../prisma/index.ts';
import { type Evaluated, evaluate, graphJson } from './engine/index.ts';
import { type EngineBoard, isAskedToCancel, noteStage } from './engine-board.ts';
import { latticeThreeMf } from './lattice-file.ts';

/** What a run hands to an engine thread. */
export interface EngineTask {
  input: ResolvedInput;
  inputHash: string;
  board: EngineBoard;
}

/** What an evaluation leaves: its result and the files made of its lattice. */
interface Output {
  result: Result;
  files: NewFile[];
}

/** `failed`: with the numbers so far, if there are any. `defect`: the engine threw, which it never should; the trace is for the log only. */
export type EngineAnswer =
  | ({ kind: 'done' } & Output)
  | { kind: 'failed'; error: RunError; partial: Output | null }
  | { kind: 'cancelled' }
  | { kind: 'defect'; trace: string };

/** Runs one evaluation on this thread: result and files, everything that takes time done here. Never throws. */
export default function runEngine({ input, inputHash, board }: EngineTask): EngineAnswer {
  try {
    const outcome = evaluate(input, {
      onStage: (stage, done) => noteStage(board, stage, done),
      isCancelled: () => isAskedToCancel(board),
    });
    if (outcome.kind === 'cancelled') return outcome;
    if (outcome.kind === 'done') return { kind: 'done', ...outputOf(outcome, inputHash) };
    return { kind: 'failed', error: outcome.error, partial: outcome.partial && outputOf(outcome.partial, inputHash) };
  } catch (error) {
    return { kind: 'defect', trace: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

const outputOf = ({ result, graph, marked }: Evaluated, inputHash: string): Output => ({
  result: { engine: { version: ENGINE_VERSION, inputHash }, ...result },
  files: [
    { name: 'graph.json', mediaType: 'application/json', content: JSON.stringify(graphJson(graph)) },
    { name: 'lattice.3mf', mediaType: 'model/3mf', content: latticeThreeMf(marked) },
  ],
});
