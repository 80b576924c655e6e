import { ENGINE_VERSION } from '../openapi/engine-version.ts';
import type { Result } from '../openapi/result.ts';
import type { Computed, NewFile, RunError, Work } from '../prisma/index.ts';
import { calibrationOf, type Evaluated, type EvaluationHooks, evaluate, type PlannedTray, surfacesOf, trayOf } from './engine/index.ts';
import { type EngineBoard, isAskedToCancel, noteStage } from './engine-board.ts';
import { graphFile, latticeFile } from './files/promised.ts';
import { trayThreeMf } from './files/threemf.ts';

/** What a run hands to an engine thread. */
export type EngineTask = Work & { inputHash: string; board: EngineBoard };

/** What a run leaves: its result and the files made of its lattices. */
interface Output {
  result: Computed;
  files: NewFile[];
}

/** `failed`: with the numbers so far, if there are any. `defect`: the engine threw, which it never should; the trace is for the log only. */
export type EngineAnswer =
  | ({ kind: 'done' } & Output)
  | { kind: 'failed'; error: RunError; partial: Output | null }
  | { kind: 'cancelled' }
  | { kind: 'defect'; trace: string };

/** Does one run on this thread: result and files, everything that takes time done here. Never throws. */
export default async function runEngine({ inputHash, board, ...work }: EngineTask): Promise<EngineAnswer> {
  const hooks: EvaluationHooks = {
    onStage: (stage, done) => noteStage(board, stage, done),
    isCancelled: () => isAskedToCancel(board),
  };
  const engine = { version: ENGINE_VERSION, inputHash };
  try {
    return await compute(work, hooks, engine);
  } catch (error) {
    return { kind: 'defect', trace: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

/** What there is to do about each kind of work. */
function compute(work: Work, hooks: EvaluationHooks, engine: Engine): EngineAnswer | Promise<EngineAnswer> {
  switch (work.kind) {
    case 'evaluation':
      return answerOf(evaluate(work.input, hooks), work.keepsFiles === false ? resultAlone : outputOf, engine);
    case 'tray':
      return answerOf(trayOf(work.input, hooks), trayOutput, engine);
    case 'calibration':
      return answerOf(calibrationOf(work.input, hooks), figuresAlone, engine);
    case 'surface':
      return answerOf(surfacesOf(work.input, hooks), figuresAlone, engine);
    case 'file':
      // Plots and meshes need packages that take half a second to load: a thread that makes no file does without.
      return import('./files/index.ts').then(({ madeFile }) => madeFile(work.input, hooks));
  }
}

type Engine = Result['engine'];
type Outcome<T> = ({ kind: 'done' } & T) | { kind: 'failed'; error: RunError; partial: T | null } | { kind: 'cancelled' };

function answerOf<T>(outcome: Outcome<T>, output: (of: T, engine: Engine) => Output, engine: Engine): EngineAnswer {
  if (outcome.kind === 'cancelled') return outcome;
  if (outcome.kind === 'done') return { kind: 'done', ...output(outcome, engine) };
  return { kind: 'failed', error: outcome.error, partial: outcome.partial && output(outcome.partial, engine) };
}

const outputOf = ({ result, graph, marked }: Evaluated, engine: Engine): Output => ({
  result: { engine, ...result },
  files: [graphFile(graph), latticeFile(marked)],
});
/** Of one point of thousands: its files are made when somebody asks for them. */
const resultAlone = ({ result }: Evaluated, engine: Engine): Output => ({ result: { engine, ...result }, files: [] });

/** Of what makes no lattice. */
const figuresAlone = ({ result }: { result: object }, engine: Engine): Output => ({ result: { engine, ...result } as Computed, files: [] });

const trayOutput = ({ result, layers, parts }: PlannedTray, engine: Engine): Output => ({
  result: { engine, ...result },
  files: [
    { name: 'tray.3mf', mediaType: 'model/3mf', content: trayThreeMf(parts) },
    { name: 'layers.json', mediaType: 'application/json', content: JSON.stringify(columns(layers)) },
  ],
});

/** From the bottom of the bed upwards, layer by layer. */
const columns = ({ areaMm2, contourMm, seconds }: PlannedTray['layers']) => ({
  areaMm2: Array.from(areaMm2),
  contourMm: Array.from(contourMm),
  seconds: Array.from(seconds),
});
