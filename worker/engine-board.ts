import { CALIBRATION_STAGES, FILE_STAGES, STAGES, SURFACE_STAGES, TRAY_STAGES } from '../openapi/stages.ts';

/**
 * What a run and its engine thread share while the engine has the thread to itself: three numbers in shared memory. No message is sent, so
 * neither side waits for the other's event loop.
 */
export type EngineBoard = Int32Array<SharedArrayBuffer>;

const CANCEL = 0;
const STAGE = 1;
const DONE = 2;
/** Every stage that a run can be in, whatever it computes. */
const KNOWN: readonly string[] = [...STAGES, ...FILE_STAGES, ...TRAY_STAGES, ...CALIBRATION_STAGES, ...SURFACE_STAGES];
/** Shares of the work are kept in ten-thousandths. */
const WHOLE = 10_000;

export const newBoard = (): EngineBoard => new Int32Array(new SharedArrayBuffer(3 * Int32Array.BYTES_PER_ELEMENT));

export const askToCancel = (board: EngineBoard): void => void Atomics.store(board, CANCEL, 1);
export const isAskedToCancel = (board: EngineBoard): boolean => Atomics.load(board, CANCEL) === 1;

/** Notes the stage (one of KNOWN) and the share of the whole work done, 0 to 1. */
export function noteStage(board: EngineBoard, stage: string, done: number): void {
  Atomics.store(board, STAGE, 1 + KNOWN.indexOf(stage));
  Atomics.store(board, DONE, Math.round(Math.min(1, Math.max(0, done)) * WHOLE));
}

/** The stage last noted and the share done in percent; null before the first stage. */
export function readStage(board: EngineBoard): { stage: string; progressPct: number } | null {
  const stage = KNOWN[Atomics.load(board, STAGE) - 1];
  return stage ? { stage, progressPct: (100 * Atomics.load(board, DONE)) / WHOLE } : null;
}
